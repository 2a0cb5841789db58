import betainc from "@stdlib/math-base-special-betainc";
import cdf from "@stdlib/stats-base-dists-f-cdf";
import quantile from "@stdlib/stats-base-dists-f-quantile";
import { logGamma } from "./log-gamma";
import { insist } from "./requirement";

/** P(F ≤ x) on df1 and df2 degrees of freedom, fractional allowed. */
export function fCdf(x: number, df1: number, df2: number): number {
  insist(
    df1 > 0 && df2 > 0 && !Number.isNaN(x),
    "fCdf",
    "df1 > 0, df2 > 0 and a number x",
    `x ${x}, df ${df1}, ${df2}`,
  );
  return cdf(x, df1, df2);
}

/** P(F > x): the p-value of an F test, with its digits kept in the far tail. */
export function fUpper(x: number, df1: number, df2: number): number {
  insist(
    df1 > 0 && df2 > 0 && !Number.isNaN(x),
    "fUpper",
    "df1 > 0, df2 > 0 and a number x",
    `x ${x}, df ${df1}, ${df2}`,
  );
  if (x <= 0) return 1;
  if (x === Number.POSITIVE_INFINITY) return 0;
  return betainc(df2 / (df2 + df1 * x), df2 / 2, df1 / 2);
}

/**
 * The x with P(F ≤ x) = p. The library's quantile is good to about 1e-8 (relative); Newton steps on ln x make it good to
 * the last digits. Checked: tests/reference/distributions (R qf).
 */
export function fQuantile(p: number, df1: number, df2: number): number {
  insist(
    p >= 0 && p <= 1 && df1 > 0 && df2 > 0,
    "fQuantile",
    "0 ≤ p ≤ 1, df1 > 0, df2 > 0",
    `p ${p}, df ${df1}, ${df2}`,
  );
  let x = quantile(p, df1, df2);
  if (x <= 0 || !Number.isFinite(x)) return x;
  const [a, b] = [df1 / 2, df2 / 2];
  for (let step = 0; step < 3; step += 1) {
    const share = (df1 * x) / (df1 * x + df2);
    const rest = df2 / (df1 * x + df2);
    const logSlope = a * Math.log(share) + b * Math.log(rest) + logGamma(a + b) - logGamma(a) - logGamma(b);
    const gap = p <= 0.5 ? fCdf(x, df1, df2) - p : 1 - p - fUpper(x, df1, df2);
    const shift = gap / Math.exp(logSlope);
    if (!Number.isFinite(shift) || Math.abs(shift) > 1e-3) break;
    x *= Math.exp(-shift);
  }
  return x;
}
