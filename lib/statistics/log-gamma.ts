import gammaln from "@stdlib/math-base-special-gammaln";
import { insist } from "./requirement";

/** ln Γ(x) for x > 0. */
export function logGamma(x: number): number {
  insist(x > 0, "logGamma", "x > 0", x);
  return gammaln(x);
}
