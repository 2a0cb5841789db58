import { dealsOf } from "./deals";
import { dealtFit } from "./dealt-fit";
import { insistOnPlots, type Layout, layoutTerms, type PlotCount } from "./plot-count";
import type { RandomStream } from "./random-stream";
import { type DealStatistic, type RandomisationTest, randomisationTest } from "./randomisation-test";
import { insist } from "./requirement";

/**
 * Could the difference in survival be the luck of the draw? A randomisation test of each pair and of the family.
 *
 * Tests that varieties are interchangeable. Beside very unlike varieties a pair's p says little about the pair: read the
 * interval. For covers on main plots give main plots as plots and covers as varieties; for varieties within covers
 * *variety under cover* as variety and the main plot as block.
 *
 * @param plots every plot that was dealt; one with nothing set out is dealt a label and tells nothing
 * @param layout how it was dealt
 * @param pairs the family
 * @param sampled deals to draw where there are more than 200,000
 * @param stream seeded by the trial
 *
 * Conventions: statistic (p_a − p_b)/√(F(u_a + u_b)) with p pooled over plots, u the binomial variance at
 * (x + ½)/(n + 1), and F = max(1, residual mean square/mean u), all of them reckoned afresh in each deal. A deal that
 * leaves one of the pair without plants scores 0 there.
 * Source: as `randomisationTest`; the statistic is our own (it keeps its error rate where other varieties are very
 * unlike, as a difference divided by the pooled spread does not).
 * Checked: tests/reference/randomisation (plain twin), tests/unit/statistics/randomisation.test.ts.
 */
export function survivalRandomisation(
  plots: readonly PlotCount[],
  layout: Layout,
  pairs: readonly (readonly [string, string])[],
  sampled: number,
  stream: RandomStream,
): RandomisationTest {
  insistOnPlots("survivalRandomisation", plots, layout);
  const deals = dealsOf(plots, layout);
  const coded = codePairs("survivalRandomisation", pairs, deals.varieties);
  const statistic = survivalStatistic(plots, layout, deals.varieties.length, coded);
  return randomisationTest(deals, statistic, pairs.length, sampled, stream);
}

/** Pairs of names as pairs of codes. */
export function codePairs(
  statistic: string,
  pairs: readonly (readonly [string, string])[],
  varieties: readonly string[],
): [number, number][] {
  return pairs.map(([a, b]) => {
    const codes: [number, number] = [varieties.indexOf(a), varieties.indexOf(b)];
    insist(codes[0] >= 0 && codes[1] >= 0, statistic, "pairs of varieties in the layout", `${a}, ${b}`);
    return codes;
  });
}

/** The square of the statistic for each pair: squares order deals alike and cost no root. */
function survivalStatistic(
  plots: readonly PlotCount[],
  layout: Layout,
  varieties: number,
  pairs: [number, number][],
): DealStatistic {
  const setOut = Float64Array.from(plots, (plot) => plot.setOut);
  const standing = Float64Array.from(plots, (plot) => plot.standing);
  const fit = dealtFit(
    plots.map((plot) => (plot.setOut > 0 ? plot.standing / plot.setOut : 0)),
    plots.map((plot) => plot.setOut),
    layoutTerms(plots, layout),
    varieties,
  );
  const first = Uint8Array.from(pairs, ([a]) => a);
  const second = Uint8Array.from(pairs, ([, b]) => b);
  const n = new Float64Array(varieties);
  const x = new Float64Array(varieties);
  const share = new Float64Array(varieties);
  const variance = new Float64Array(varieties);
  // With as many plants in every plot each variety has its number in every deal.
  const alike = setOut.every((plants) => plants === setOut[0]);
  let counted = false;
  return (labels, out) => {
    x.fill(0);
    for (let plot = 0; plot < labels.length; plot += 1) x[labels[plot]] += standing[plot];
    if (!counted || !alike) {
      n.fill(0);
      for (let plot = 0; plot < labels.length; plot += 1) n[labels[plot]] += setOut[plot];
      counted = true;
    }
    let sum = 0;
    let present = 0;
    for (let variety = 0; variety < varieties; variety += 1) {
      if (n[variety] === 0) continue;
      const likely = (x[variety] + 0.5) / (n[variety] + 1);
      variance[variety] = likely * (1 - likely);
      share[variety] = x[variety] / n[variety];
      sum += variance[variety];
      present += 1;
    }
    fit.fit(labels);
    const ratio = fit.df > 0 ? fit.residual / fit.df / (sum / present) : 0;
    const f = Math.max(1, ratio);
    for (let pair = 0; pair < out.length; pair += 1) {
      const a = first[pair];
      const b = second[pair];
      const gap = n[a] > 0 && n[b] > 0 ? share[a] - share[b] : 0;
      out[pair] = gap === 0 ? 0 : (gap * gap) / (f * (variance[a] + variance[b]));
    }
  };
}
