import cdf from "@stdlib/stats-base-dists-normal-cdf";
import quantile from "@stdlib/stats-base-dists-normal-quantile";
import { insist } from "./requirement";

const rootTwoPi = Math.sqrt(2 * Math.PI);

/** Density of the standard normal distribution. */
export function normalDensity(z: number): number {
  return Math.exp(-0.5 * z * z) / rootTwoPi;
}

/** Φ(z). For an upper tail ask for Φ(−z), which keeps its digits where 1 − Φ(z) loses them. */
export function normalCdf(z: number): number {
  return cdf(z, 0, 1);
}

/**
 * The z with Φ(z) = p. The library's quantile is good to 2e-9; one Newton step on Φ in the nearer tail makes it good to
 * the last digits.
 * Checked: tests/reference/distributions (R qnorm).
 */
export function normalQuantile(p: number): number {
  insist(p >= 0 && p <= 1, "normalQuantile", "0 ≤ p ≤ 1", p);
  if (p > 0.5) return -normalQuantile(1 - p);
  if (p === 0) return Number.NEGATIVE_INFINITY;
  if (p === 0.5) return 0;
  // The library answers −∞ below 1e-16; there the tail's leading term starts and Newton on ln Φ finishes.
  let z = quantile(p, 0, 1);
  if (!Number.isFinite(z)) {
    z = -Math.sqrt(-2 * Math.log(p));
    for (let step = 0; step < 4; step += 1)
      z -= (Math.log(normalCdf(z)) - Math.log(p)) / (normalDensity(z) / normalCdf(z));
  }
  return z - (normalCdf(z) - p) / normalDensity(z);
}
