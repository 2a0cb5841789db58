import { fUpper } from "./f-distribution";
import { groupSummaries } from "./group-summary";
import { noVarianceRatio, type VarianceRatio } from "./variance-ratio";

/**
 * Whether several means differ, without taking their variances as equal.
 *
 * Beside the analysis of variance of a completely randomised trial. Not for plots in blocks.
 *
 * @param groups values of each variety's plots
 * @returns F on groups − 1 and Welch's df
 *
 * Edges: a group of one plot, or one whose plots are all alike, has no variance of its own and leaves no test.
 * Source: welch-1951.
 * Checked: tests/reference/multiple-comparisons (R oneway.test).
 * Example: PlantGrowth → F 5.181 on 2 and 17.13 df, p 0.0174.
 */
export function welchTest(groups: readonly (readonly number[])[]): VarianceRatio {
  const summaries = groupSummaries("welchTest", groups);
  const df1 = groups.length - 1;
  if (summaries.some(({ size }) => size < 2)) return noVarianceRatio(df1, "single plot");
  if (summaries.some(({ variance }) => variance === 0)) return noVarianceRatio(df1, "no variation");
  const base = summaries[0].mean;
  const weights = summaries.map(({ size, variance }) => size / variance);
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const centre = summaries.reduce((sum, { mean }, i) => sum + weights[i] * (mean - base), 0) / total;
  const between =
    summaries.reduce((sum, { mean }, i) => sum + weights[i] * (mean - base - centre) ** 2, 0) / df1;
  const lambda = summaries.reduce((sum, { size }, i) => sum + (1 - weights[i] / total) ** 2 / (size - 1), 0);
  const count = groups.length;
  const f = between / (1 + (2 * (count - 2) * lambda) / (count ** 2 - 1));
  const df2 = (count ** 2 - 1) / (3 * lambda);
  return { f, df1, df2, p: fUpper(f, df1, df2), reason: null };
}
