import cdf from "@stdlib/stats-base-dists-t-cdf";
import quantile from "@stdlib/stats-base-dists-t-quantile";
import { normalCdf, normalQuantile } from "./normal";
import { insist } from "./requirement";

/** P(T ≤ t) for Student's t on `df` > 0 degrees of freedom, fractional or infinite. For an upper tail ask for −t. */
export function studentTCdf(t: number, df: number): number {
  insist(df > 0 && !Number.isNaN(t), "studentTCdf", "df > 0 and a number t", () => `t ${t}, df ${df}`);
  return df === Number.POSITIVE_INFINITY ? normalCdf(t) : cdf(t, df);
}

/** The t with P(T ≤ t) = p. Checked: tests/reference/distributions (R qt). */
export function studentTQuantile(p: number, df: number): number {
  insist(p >= 0 && p <= 1 && df > 0, "studentTQuantile", "0 ≤ p ≤ 1 and df > 0", () => `p ${p}, df ${df}`);
  return df === Number.POSITIVE_INFINITY ? normalQuantile(p) : quantile(p, df);
}
