import betainc from "@stdlib/math-base-special-betainc";
import cdf from "@stdlib/stats-base-dists-beta-cdf";
import quantile from "@stdlib/stats-base-dists-beta-quantile";
import { insist } from "./requirement";

/** P(X ≤ x) for a Beta(a, b) variable, a and b > 0. */
export function betaCdf(x: number, a: number, b: number): number {
  insist(
    a > 0 && b > 0 && !Number.isNaN(x),
    "betaCdf",
    "a > 0, b > 0 and a number x",
    `x ${x}, a ${a}, b ${b}`,
  );
  return cdf(x, a, b);
}

/** P(X > x) for a Beta(a, b) variable, with its digits kept where 1 − P(X ≤ x) would lose them. */
export function betaUpper(x: number, a: number, b: number): number {
  insist(
    a > 0 && b > 0 && !Number.isNaN(x),
    "betaUpper",
    "a > 0, b > 0 and a number x",
    `x ${x}, a ${a}, b ${b}`,
  );
  if (x <= 0) return 1;
  if (x >= 1) return 0;
  return betainc(x, a, b, true, true);
}

/** The x with P(X ≤ x) = p. Checked: tests/reference/distributions (R qbeta). */
export function betaQuantile(p: number, a: number, b: number): number {
  insist(
    p >= 0 && p <= 1 && a > 0 && b > 0,
    "betaQuantile",
    "0 ≤ p ≤ 1, a > 0, b > 0",
    `p ${p}, a ${a}, b ${b}`,
  );
  return quantile(p, a, b);
}
