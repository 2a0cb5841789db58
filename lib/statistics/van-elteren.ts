import { normalCdf } from "./normal";
import { insist } from "./requirement";

/** A plot's score of one of two varieties. */
export interface ScoredPlot {
  score: number;
  /** True for the variety, false for the check. */
  isVariety: boolean;
  block: string;
}

export interface VanElteren {
  /** Positive where the variety scores higher. Null where no block holds both, or all scores in each are the same. */
  z: number | null;
  /** Normal approximation, two-sided. */
  p: number | null;
  /** Blocks that held plots of both. */
  blocks: number;
  /** Rank of each plot within its block over (plots of the block + 1): re-deal these for a p that few plots allow. */
  scores: number[];
  reason: "nothing to compare" | null;
}

/**
 * Van Elteren's test: Wilcoxon's rank sum within each block, put together so that it is most powerful for a like shift in
 * every block. For damage scores, whose steps are not of like size.
 *
 * @param plots one score a plot (the plot's median, where plants were scored), of the two varieties compared
 *
 * Conventions: mid-ranks for ties; weights 1/(plots of the block + 1); no continuity correction. The normal p is rough
 * with few plots: hand `scores` to `yieldRandomisation`, which re-deals.
 * Source: van-elteren-1960; lehmann-1975, section 3.3.
 * Checked: tests/reference/scores (R, by its formula); one block is Wilcoxon's test (R wilcox.test).
 */
export function vanElteren(plots: readonly ScoredPlot[]): VanElteren {
  for (const { score } of plots) insist(Number.isFinite(score), "vanElteren", "finite scores", score);
  const scores = plots.map(() => 0);
  let sum = 0;
  let variance = 0;
  let blocks = 0;
  for (const block of new Set(plots.map((plot) => plot.block))) {
    const own = plots.flatMap((plot, index) => (plot.block === block ? [index] : []));
    const n = own.length;
    const ranks = midRanks(own.map((index) => plots[index].score));
    for (const [place, index] of own.entries()) scores[index] = ranks[place] / (n + 1);
    const varieties = own.filter((index) => plots[index].isVariety).length;
    if (varieties === 0 || varieties === n) continue;
    blocks += 1;
    const spread = ranks.reduce((total, rank) => total + (rank - (n + 1) / 2) ** 2, 0) / (n - 1);
    for (const [place, index] of own.entries())
      if (plots[index].isVariety) sum += (ranks[place] - (n + 1) / 2) / (n + 1);
    variance += (varieties * (n - varieties) * spread) / (n * (n + 1) ** 2);
  }
  if (variance === 0) return { z: null, p: null, blocks, scores, reason: "nothing to compare" };
  const z = sum / Math.sqrt(variance);
  return { z, p: 2 * normalCdf(-Math.abs(z)), blocks, scores, reason: null };
}

/** Ranks from 1, ties at their middle. */
export function midRanks(values: readonly number[]): number[] {
  const sorted = Float64Array.from(values).sort();
  const first = new Map<number, number>();
  const count = new Map<number, number>();
  for (const [place, value] of sorted.entries()) {
    if (!first.has(value)) first.set(value, place + 1);
    count.set(value, (count.get(value) ?? 0) + 1);
  }
  return values.map((value) => (first.get(value) ?? 0) + ((count.get(value) ?? 1) - 1) / 2);
}
