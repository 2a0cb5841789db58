import type { ContrastEstimate } from "./contrast";
import { groupSummaries } from "./group-summary";
import { insist } from "./requirement";
import { studentizedRangeQuantile, studentizedRangeUpper } from "./studentized-range";

/**
 * Limits and p of all pairs of means without taking their variances as equal, for all of them at once.
 *
 * Beside `welchTest`, in a completely randomised trial. Not for plots in blocks.
 *
 * @param groups values of each variety's plots
 * @param level confidence level of the whole family
 * @returns every pair, the later less the earlier
 *
 * Conventions: each pair on its own variances and Welch's df, against the studentized range of all the means.
 * Edges: a pair of which neither has a variance gives no limits; one of two plots of one plot each has no df.
 * Source: games-howell-1976.
 * Checked: tests/reference/multiple-comparisons (double integration in R).
 */
export function gamesHowell(
  groups: readonly { level: string; values: readonly number[] }[],
  level: number,
): (ContrastEstimate & { level: string; reference: string })[] {
  insist(level > 0 && level < 1, "gamesHowell", "0 < level < 1", level);
  const summaries = groupSummaries(
    "gamesHowell",
    groups.map(({ values }) => values),
  );
  const nothing = { se: null, df: null, low: null, high: null, t: null, p: null };
  return summaries.flatMap((one, place) =>
    summaries.slice(0, place).map((other, before) => {
      const names = { level: groups[place].level, reference: groups[before].level };
      const estimate = one.mean - other.mean;
      if (one.size < 2 || other.size < 2) return { ...names, ...nothing, estimate, reason: "no residual df" };
      const [a, b] = [one.variance / one.size, other.variance / other.size];
      const se = Math.sqrt(a + b);
      if (se === 0) return { ...names, ...nothing, estimate, reason: "no variation" };
      const df = (a + b) ** 2 / (a ** 2 / (one.size - 1) + b ** 2 / (other.size - 1));
      const t = estimate / se;
      const half = (studentizedRangeQuantile(level, groups.length, df) / Math.SQRT2) * se;
      const p = studentizedRangeUpper(Math.abs(t) * Math.SQRT2, groups.length, df);
      return { ...names, estimate, se, df, low: estimate - half, high: estimate + half, t, p, reason: null };
    }),
  );
}
