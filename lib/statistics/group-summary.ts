import { insist } from "./requirement";

/** Size, mean and variance (n − 1) of one group; variance 0 for a single value. */
export interface GroupSummary {
  size: number;
  mean: number;
  variance: number;
}

/** Summaries of groups of finite values, none of them empty; values are shifted before squaring. */
export function groupSummaries(statistic: string, groups: readonly (readonly number[])[]): GroupSummary[] {
  insist(groups.length >= 2, statistic, "at least two groups", groups.length);
  return groups.map((values) => {
    insist(
      values.length > 0 && values.every(Number.isFinite),
      statistic,
      "groups of finite values, none empty",
      values.length === 0 ? "an empty group" : String(values.find((value) => !Number.isFinite(value))),
    );
    const size = values.length;
    const shift = values.reduce((sum, value) => sum + (value - values[0]), 0) / size;
    const squares = values.reduce((sum, value) => sum + (value - values[0] - shift) ** 2, 0);
    return { size, mean: values[0] + shift, variance: size > 1 ? squares / (size - 1) : 0 };
  });
}
