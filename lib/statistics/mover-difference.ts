import type { Estimate } from "./interval";
import { insist } from "./requirement";

/**
 * Limits for the difference a − b of two independent estimates, recovered from the limits of each (MOVER).
 *
 * For differences of shares whose own limits are good near 0 and 1, and for a difference of two such differences
 * (variety × cover). Not for estimates that share plots.
 *
 * @param a, b estimates with limits at one level, on one scale
 * @returns a − b with limits at that level; it may reach past ±1 only if the inputs do
 *
 * Convention: √((a − lowA)² + (highB − b)²) below the difference, √((highA − a)² + (b − lowB)²) above it.
 * Source: zou-donner-2008, equation 7; for two Wilson intervals it is newcombe-1998-difference, method 10.
 * Checked: tests/unit/statistics/mover-difference.test.ts (by hand), tests/reference/two-proportions.
 * Example: 0.8 (0.6 to 0.9) less 0.5 (0.3 to 0.7) → 0.3 (0.017 to 0.524).
 */
export function moverDifference(a: Estimate, b: Estimate): Estimate {
  for (const { estimate, low, high } of [a, b])
    insist(
      low <= estimate && estimate <= high,
      "moverDifference",
      "low ≤ estimate ≤ high",
      () => `${low}, ${estimate}, ${high}`,
    );
  const estimate = a.estimate - b.estimate;
  return {
    estimate,
    low: estimate - Math.hypot(a.estimate - a.low, b.high - b.estimate),
    high: estimate + Math.hypot(a.high - a.estimate, b.estimate - b.low),
  };
}
