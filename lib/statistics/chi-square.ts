import gammainc from "@stdlib/math-base-special-gammainc";
import quantile from "@stdlib/stats-base-dists-chisquare-quantile";
import { insist } from "./requirement";

/** P(X > x): the p-value of a chi-square test on `df` > 0, with its digits kept in the far tail. */
export function chiSquareUpper(x: number, df: number): number {
  insist(df > 0 && !Number.isNaN(x), "chiSquareUpper", "df > 0 and a number x", `x ${x}, df ${df}`);
  if (x <= 0) return 1;
  if (x === Number.POSITIVE_INFINITY) return 0;
  return gammainc(x / 2, df / 2, true, true);
}

/** The x with P(X ≤ x) = p. Checked: tests/reference/distributions (R qchisq). */
export function chiSquareQuantile(p: number, df: number): number {
  insist(p >= 0 && p <= 1 && df > 0, "chiSquareQuantile", "0 ≤ p ≤ 1 and df > 0", `p ${p}, df ${df}`);
  return quantile(p, df);
}
