import type { ContrastEstimate } from "./contrast";
import { insist } from "./requirement";
import { studentizedRangeQuantile, studentizedRangeUpper } from "./studentized-range";

/**
 * Limits and p of all pairs of means, made for all of them at once.
 *
 * For every pair of varieties; against one check alone `dunnett` is narrower.
 *
 * @param differences all pairs, as `marginalDifferences` gives them
 * @param means how many means the pairs are of, ≥ 2
 * @param level confidence level of the whole family
 * @returns the same differences with `low`, `high` and `p` replaced; what had a reason keeps it
 *
 * Conventions: |t|√2 against the studentized range on the difference's own df (mixed models have several); slightly
 * wide where plots are unequal (Hayter 1984).
 * Source: kramer-1956.
 * Checked: tests/reference/multiple-comparisons (double integration in R; TukeyHSD, emmeans).
 * Example: PlantGrowth, trt2 − trt1 0.865 → 0.174 to 1.556, p 0.0120.
 */
export function tukeyKramer<Difference extends ContrastEstimate>(
  differences: readonly Difference[],
  means: number,
  level: number,
): Difference[] {
  insist(level > 0 && level < 1, "tukeyKramer", "0 < level < 1", level);
  const multipliers = new Map<number, number>();
  return differences.map((difference) => {
    const { estimate, se, df, t } = difference;
    if (estimate === null || se === null || df === null || t === null) return difference;
    const multiplier = multipliers.get(df) ?? studentizedRangeQuantile(level, means, df) / Math.SQRT2;
    multipliers.set(df, multiplier);
    const p = studentizedRangeUpper(Math.abs(t) * Math.SQRT2, means, df);
    return { ...difference, low: estimate - multiplier * se, high: estimate + multiplier * se, p };
  });
}
