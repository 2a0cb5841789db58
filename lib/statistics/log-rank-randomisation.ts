import { countUpTo, eventTable } from "./lifetimes";
import type { LossWeight } from "./log-rank";
import { type Layout, numbered } from "./plot-count";
import type { RandomStream } from "./random-stream";
import type { FollowedPlot } from "./standing-limits";
import { type YieldRandomisation, yieldRandomisation } from "./yield-randomisation";

/**
 * What each plot lost beyond what its plants' time under watch led to expect, were all plots of its block alike: Σ over
 * its plants of weight × (lost − hazard met). A group's log-rank observed − expected is the sum over its plots.
 *
 * @returns one number a plot; null for a plot without plants
 */
export function logRankScores(
  plots: readonly FollowedPlot[],
  layout: Layout,
  weight: LossWeight,
): (number | null)[] {
  const stratum = layout === "rcbd" ? numbered(plots.map((plot) => plot.block)) : plots.map(() => 0);
  const scores = plots.map((plot): number | null => (plot.times.length === 0 ? null : 0));
  for (let block = 0; block <= Math.max(-1, ...stratum); block += 1) {
    const own = plots.filter((_, plot) => stratum[plot] === block);
    const { times, atRisk, lost } = eventTable("logRankScores", {
      times: own.flatMap((plot) => Array.from(plot.times)),
      causes: own.flatMap((plot) => Array.from(plot.causes)),
    });
    let peto = 1;
    let met = 0;
    const weights = new Float64Array(times.length);
    const hazard = new Float64Array(times.length);
    for (let at = 0; at < times.length; at += 1) {
      peto *= 1 - lost[at] / (atRisk[at] + 1);
      weights[at] = weight === "peto" ? peto : 1;
      met += (weights[at] * lost[at]) / atRisk[at];
      hazard[at] = met;
    }
    for (const [index, plot] of plots.entries()) {
      if (stratum[index] !== block || plot.times.length === 0) continue;
      let score = 0;
      for (let plant = 0; plant < plot.times.length; plant += 1) {
        const at = countUpTo(times, plot.times[plant]) - 1;
        score += (plot.causes[plant] > 0 ? weights[at] : 0) - hazard[at];
      }
      scores[index] = score;
    }
  }
  return scores;
}

/**
 * Could the difference in how fast varieties lost plants be the luck of the draw? The log-rank test (within blocks where
 * the layout has them) with whole plots re-dealt, so that plants of one plot may share their fate.
 *
 * @param plots every plot that was dealt; one without plants is dealt a label and tells nothing
 * @param layout how it was dealt
 * @param pairs the family, at least one
 * @param weight log-rank, or Peto's for early losses
 * @param sampled deals to draw where there are more than 200,000
 * @param stream seeded by the trial
 *
 * Conventions: the plots' scores are compared by the t of each pair and, over all varieties, by the sum of squares that
 * they explain. A plot's score does not depend on the deal, so the deals are fast.
 * Source: peto-peto-1972 (scores); as `yieldRandomisation`.
 * Checked: tests/unit/statistics/log-rank.test.ts (scores add up to `logRank`; all deals gone through by hand).
 */
export function logRankRandomisation(
  plots: readonly FollowedPlot[],
  layout: Layout,
  pairs: readonly (readonly [string, string])[],
  weight: LossWeight,
  sampled: number,
  stream: RandomStream,
): YieldRandomisation {
  const scores = logRankScores(plots, layout, weight);
  const dealt = plots.map(({ variety, block, row, column }, plot) => ({
    variety,
    block,
    row,
    column,
    value: scores[plot],
  }));
  return yieldRandomisation(dealt, layout, pairs, "t", sampled, stream);
}
