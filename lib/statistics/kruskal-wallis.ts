import { chiSquareUpper } from "./chi-square";
import { groupSummaries } from "./group-summary";
import { midRanks } from "./mid-ranks";

/**
 * Whether several groups differ, by ranks alone.
 *
 * Beside the analysis of variance where a few plots are far out. Not for plots in blocks.
 *
 * @param groups values of each variety's plots
 * @returns chi-square on groups − 1 df; null statistic and p where all values are tied
 *
 * Conventions: mid-ranks with the tie correction; p from chi-square, rough below five plots a group (the randomisation p
 * is exact).
 * Source: kruskal-wallis-1952.
 * Checked: tests/reference/multiple-comparisons (R kruskal.test).
 */
export function kruskalWallis(groups: readonly (readonly number[])[]): {
  statistic: number | null;
  df: number;
  p: number | null;
} {
  groupSummaries("kruskalWallis", groups);
  const { ranks, ties } = midRanks(groups.flat());
  const size = ranks.length;
  const df = groups.length - 1;
  const untied = 1 - ties / (size ** 3 - size);
  if (!(untied > 0)) return { statistic: null, df, p: null };
  let start = 0;
  let sum = 0;
  for (const { length } of groups) {
    const total = ranks.slice(start, start + length).reduce((one, rank) => one + rank - (size + 1) / 2, 0);
    sum += total ** 2 / length;
    start += length;
  }
  const statistic = (12 * sum) / (size * (size + 1)) / untied;
  return { statistic, df, p: chiSquareUpper(statistic, df) };
}
