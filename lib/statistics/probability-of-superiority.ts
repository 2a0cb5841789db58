import { normalQuantile } from "./normal";
import { insist } from "./requirement";
import { rootBetween } from "./root-between";
import { studentTCdf, studentTQuantile } from "./student-t";
import { midRanks } from "./van-elteren";

export interface Superiority {
  /** P(variety scores higher) + ½ P(the two are even). Null without plots of one or the other. */
  estimate: number | null;
  low: number | null;
  high: number | null;
  se: number | null;
  df: number | null;
  /** Against ½, two-sided. */
  p: number | null;
  /** Whose limits: see conventions. */
  method: "brunner-munzel" | "newcombe" | null;
  reason: "no plots" | "no scatter" | null;
}

/**
 * How often a plot of the variety would score higher than a plot of the check, ties counting half.
 *
 * @param variety one score a plot
 * @param check one score a plot
 * @param level confidence level
 *
 * Conventions: limits and p by Brunner and Munzel's t, which lets the two scatter differently; limits cut to [0, 1].
 * Edges: where plots do not scatter about the comparison (every plot of one above every plot of the other, or one plot
 * only) that t has no width: then Newcombe's method 5 gives the limits, no p, and `reason` says so.
 * Source: brunner-munzel-2000; newcombe-2006, method 5.
 * Checked: tests/reference/scores (R, by Brunner and Munzel's formulas); Newcombe by hand in
 * tests/unit/statistics/scores.test.ts.
 * Example: three plots at 5, 6, 7 against three at 1, 2, 3 → 1, limits 0.50 to 1.
 */
export function probabilityOfSuperiority(
  variety: readonly number[],
  check: readonly number[],
  level: number,
): Superiority {
  insist(level > 0 && level < 1, "probabilityOfSuperiority", "0 < level < 1", level);
  for (const score of [...variety, ...check])
    insist(Number.isFinite(score), "probabilityOfSuperiority", "finite scores", score);
  const [n, m] = [variety.length, check.length];
  const nothing = { se: null, df: null, p: null };
  if (n === 0 || m === 0)
    return { estimate: null, low: null, high: null, ...nothing, method: null, reason: "no plots" };
  const ranks = midRanks([...check, ...variety]);
  const checkRanks = ranks.slice(0, m);
  const varietyRanks = ranks.slice(m);
  const estimate = (sum(varietyRanks) / n - (n + 1) / 2) / m;
  const checkSpread = placementVariance(checkRanks, midRanks(check));
  const varietySpread = placementVariance(varietyRanks, midRanks(variety));
  if (n < 2 || m < 2 || checkSpread + varietySpread === 0) {
    const { low, high } = newcombeLimits(estimate, n, m, level);
    return { estimate, low, high, ...nothing, method: "newcombe", reason: "no scatter" };
  }
  const parts = [m * checkSpread, n * varietySpread];
  const df = sum(parts) ** 2 / (parts[0] ** 2 / (m - 1) + parts[1] ** 2 / (n - 1));
  const se = Math.sqrt(checkSpread / (m * n * n) + varietySpread / (n * m * m));
  const half = studentTQuantile((1 + level) / 2, df) * se;
  return {
    estimate,
    low: Math.max(0, estimate - half),
    high: Math.min(1, estimate + half),
    se,
    df,
    p: 2 * studentTCdf(-Math.abs((estimate - 0.5) / se), df),
    method: "brunner-munzel",
    reason: null,
  };
}

const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);

/** Variance of the ranks among all less the ranks among one's own. */
function placementVariance(ranks: readonly number[], own: readonly number[]): number {
  const placements = ranks.map((rank, index) => rank - own[index]);
  const mean = sum(placements) / placements.length;
  return sum(placements.map((placement) => (placement - mean) ** 2)) / (placements.length - 1);
}

/** All values that a score test would not refuse, with the variance that exponential scores would have. */
function newcombeLimits(
  estimate: number,
  n: number,
  m: number,
  level: number,
): { low: number; high: number } {
  const z = -normalQuantile((1 - level) / 2);
  const size = (n + m) / 2 - 1;
  const excess = (value: number) =>
    (estimate - value) ** 2 -
    ((z * z * value * (1 - value)) / (n * m)) *
      (1 + (size * (1 - value)) / (2 - value) + (size * value) / (1 + value));
  return {
    low: estimate === 0 ? 0 : rootBetween(excess, 0, estimate === 1 ? 1 - 1e-12 : estimate),
    high: estimate === 1 ? 1 : rootBetween(excess, estimate === 0 ? 1e-12 : estimate, 1),
  };
}
