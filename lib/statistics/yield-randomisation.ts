import { type DealtPlace, dealsOf } from "./deals";
import { dealtFit } from "./dealt-fit";
import { type Layout, numbered } from "./plot-count";
import type { RandomStream } from "./random-stream";
import { type DealStatistic, type RandomisationP, randomisationTest } from "./randomisation-test";
import { insist } from "./requirement";
import { codePairs } from "./survival-randomisation";

/** A plot's yield on the scale that is compared; null where it was not measured (0 where it yielded nothing). */
export interface DealtYield extends DealtPlace {
  value: number | null;
}

export interface YieldRandomisation {
  deals: number;
  enumerated: boolean;
  pairs: RandomisationP[];
  /** All varieties at once, by the sum of squares they explain: the F test's companion. */
  overall: { p: number; error: number };
}

/**
 * Could the difference in yield be the luck of the draw? A randomisation test of each pair, the family, and all at once.
 *
 * Tests that varieties are interchangeable. `difference` compares means as they are; `t` divides by the deal's own
 * residual spread, which a family with max-T should have. Where plots of one pair scatter far more than the rest neither
 * keeps its error rate for the pair: read the interval.
 *
 * @param plots every plot that was dealt; null values are dealt a label and tell nothing
 * @param layout how it was dealt
 * @param pairs the family, at least one
 * @param statistic `difference` of least-squares means, or `t`
 * @param sampled deals to draw where there are more than 200,000
 * @param stream seeded by the trial
 *
 * Conventions: two-sided; differences adjusted for blocks, or rows and columns, by least squares; in a deal where a pair
 * does not meet it scores 0; where the residual is nothing at all, t is 0 for no difference and endless otherwise.
 * Source: as `randomisationTest`.
 * Checked: tests/reference/randomisation (Darwin's maize, permeability, 3 × 3 blocks; R).
 * Example: Darwin's 15 pairs, difference → p = 1,726/32,768.
 */
export function yieldRandomisation(
  plots: readonly DealtYield[],
  layout: Layout,
  pairs: readonly (readonly [string, string])[],
  statistic: "difference" | "t",
  sampled: number,
  stream: RandomStream,
): YieldRandomisation {
  for (const { value } of plots)
    insist(
      value === null || Number.isFinite(value),
      "yieldRandomisation",
      "finite values, or null",
      String(value),
    );
  insist(pairs.length > 0, "yieldRandomisation", "at least one pair", 0);
  const deals = dealsOf(plots, layout);
  const coded = codePairs("yieldRandomisation", pairs, deals.varieties);
  const terms = layout === "rcbd" ? [plots.map((plot) => plot.block)] : [];
  if (layout === "latin")
    terms.push(...[plots.map((plot) => String(plot.row)), plots.map((plot) => String(plot.column))]);
  const fit = dealtFit(
    plots.map((plot) => plot.value ?? 0),
    plots.map((plot) => (plot.value === null ? 0 : 1)),
    terms.map((names) => numbered(names)),
    deals.varieties.length,
  );
  const first = Uint8Array.from(coded, ([a]) => a);
  const second = Uint8Array.from(coded, ([, b]) => b);
  const size = coded.length;
  const each: DealStatistic = (labels, out) => {
    fit.fit(labels);
    const meanSquare = fit.df > 0 ? fit.residual / fit.df : 0;
    for (let pair = 0; pair < size; pair += 1) {
      const a = first[pair];
      const b = second[pair];
      const gap = fit.estimable(a, b) ? fit.difference(a, b) : 0;
      const square = gap * gap;
      if (statistic === "difference") out[pair] = square;
      else if (square === 0) out[pair] = 0;
      else out[pair] = square / (meanSquare * fit.varianceFactor(a, b));
    }
    out[size] = fit.explained;
  };
  const test = randomisationTest(deals, each, size, sampled, stream, 1);
  const { p, error } = test.comparisons[size];
  return {
    deals: test.deals,
    enumerated: test.enumerated,
    pairs: test.comparisons.slice(0, size),
    overall: { p, error },
  };
}
