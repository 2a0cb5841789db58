import type { Estimate } from "./interval";
import { moverDifference } from "./mover-difference";
import { insist } from "./requirement";
import { wilsonInterval } from "./wilson-interval";

/** A share and the number of plants it is worth, which need not be whole. */
export interface WeighedShare {
  share: number;
  plants: number;
}

/**
 * Limits for the difference of two shares, a − b, by Newcombe's hybrid score method.
 *
 * With effective plants for varieties in plots; on bare counts it takes plants as independent.
 *
 * @param a, b share in [0, 1] and plants > 0 (effective plants, or plants)
 * @param level confidence level
 * @returns difference with limits within [−1, 1]
 *
 * Edges: 0/n against 0/n and n/n against 0/n have proper limits, never of width 0.
 * Source: newcombe-1998-difference, method 10.
 * Checked: tests/reference/two-proportions (Newcombe's Table II a–h).
 * Example: 56/70 − 48/80 → 0.2 (0.0524 to 0.3339).
 */
export function newcombeDifference(a: WeighedShare, b: WeighedShare, level: number): Estimate {
  const estimate = ({ share, plants }: WeighedShare): Estimate => {
    insist(share >= 0 && share <= 1, "newcombeDifference", "0 ≤ share ≤ 1", share);
    const { low, high } = wilsonInterval(Math.min(share * plants, plants), plants, level);
    return { estimate: share, low: Math.min(low, share), high: Math.max(high, share) };
  };
  const difference = moverDifference(estimate(a), estimate(b));
  return { ...difference, low: Math.max(-1, difference.low), high: Math.min(1, difference.high) };
}
