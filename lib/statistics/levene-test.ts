import { median } from "simple-statistics";
import { fUpper } from "./f-distribution";
import { groupSummaries } from "./group-summary";
import { noVarianceRatio, type VarianceRatio } from "./variance-ratio";

/**
 * Whether several groups scatter alike: analysis of variance of the distances from each group's centre.
 *
 * A check on equal variances, shown in the working; below six blocks it chooses no method.
 *
 * @param groups values, or residuals, of each variety's plots
 * @param centre *median* (Brown–Forsythe, the usual one) or *mean* (Levene)
 * @returns F on groups − 1 and values − groups df
 *
 * Edges: as many groups as values leave no residual df; distances all alike leave no variation.
 * Source: brown-forsythe-1974.
 * Checked: tests/reference/multiple-comparisons (R car::leveneTest).
 */
export function leveneTest(
  groups: readonly (readonly number[])[],
  centre: "median" | "mean" = "median",
): VarianceRatio {
  const means = groupSummaries("leveneTest", groups);
  const distances = groups.map((values, group) => {
    const middle = centre === "mean" ? means[group].mean : median([...values]);
    return values.map((value) => Math.abs(value - middle));
  });
  const summaries = groupSummaries("leveneTest", distances);
  const size = summaries.reduce((sum, one) => sum + one.size, 0);
  const [df1, df2] = [groups.length - 1, size - groups.length];
  if (df2 === 0) return noVarianceRatio(df1, "no residual df");
  const mean = summaries.reduce((sum, one) => sum + one.size * one.mean, 0) / size;
  const between = summaries.reduce((sum, one) => sum + one.size * (one.mean - mean) ** 2, 0) / df1;
  const within = summaries.reduce((sum, one) => sum + (one.size - 1) * one.variance, 0) / df2;
  if (within <= 1e-24 * Math.max(between, mean ** 2)) return noVarianceRatio(df1, "no variation");
  const f = between / within;
  return { f, df1, df2, p: fUpper(f, df1, df2), reason: null };
}
