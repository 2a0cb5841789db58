import type { Estimate } from "./interval";
import { normalQuantile } from "./normal";
import { insist } from "./requirement";
import { insistOnStrata, type Stratum } from "./stratum";

/**
 * The difference of two shares, a − b, averaged over blocks by Mantel and Haenszel's weights.
 *
 * For the working only: it takes plants as independent, and covers 62 to 84 % where plants of a plot share their fate
 * (ICC 0.1 to 0.2).
 *
 * @param strata two counts a block; a block that lacks either tells nothing
 * @param level confidence level
 * @returns difference, standard error and limits; null where no block holds both
 *
 * Convention: Sato's variance, right both for many small blocks and for few large ones. Limits are not cut at ±1.
 * Source: mantel-haenszel-1959; variance sato-1989.
 * Checked: tests/reference/mantel-haenszel (rabbits, admissions; R, metafor).
 * Example: penicillin in rabbits → 0.228 (0.042 to 0.414).
 */
export function mantelHaenszelDifference(
  strata: readonly Stratum[],
  level: number,
): (Estimate & { se: number }) | null {
  insistOnStrata("mantelHaenszelDifference", strata);
  insist(level > 0 && level < 1, "mantelHaenszelDifference", "0 < level < 1", level);
  let weight = 0;
  let weighed = 0;
  let p = 0;
  let q = 0;
  for (const { a, b } of strata) {
    const [x, n, y, m] = [a.standing, a.setOut, b.standing, b.setOut];
    if (n === 0 || m === 0) continue;
    const total = n + m;
    weight += (n * m) / total;
    weighed += (x * m - y * n) / total;
    p += (n * n * y - m * m * x + (n * m * (m - n)) / 2) / (total * total);
    q += (x * (m - y) + y * (n - x)) / (2 * total);
  }
  if (weight === 0) return null;
  const estimate = weighed / weight;
  const se = Math.sqrt(Math.max(0, estimate * p + q)) / weight;
  const z = -normalQuantile((1 - level) / 2);
  return { estimate, se, low: estimate - z * se, high: estimate + z * se };
}
