import cdf from "@stdlib/stats-base-dists-binomial-cdf";
import pmf from "@stdlib/stats-base-dists-binomial-pmf";
import { insist } from "./requirement";

/** P(X = x) of a binomial count: x of n, each with chance p. */
export function binomialPmf(x: number, n: number, p: number): number {
  insist(
    Number.isInteger(n) && n >= 0 && p >= 0 && p <= 1,
    "binomialPmf",
    "a whole n ≥ 0 and 0 ≤ p ≤ 1",
    `n ${n}, p ${p}`,
  );
  return pmf(x, n, p);
}

/** P(X ≤ x) of a binomial count. */
export function binomialCdf(x: number, n: number, p: number): number {
  insist(
    Number.isInteger(n) && n >= 0 && p >= 0 && p <= 1,
    "binomialCdf",
    "a whole n ≥ 0 and 0 ≤ p ≤ 1",
    `n ${n}, p ${p}`,
  );
  return cdf(x, n, p);
}
