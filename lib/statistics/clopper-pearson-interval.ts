import { betaQuantile } from "./beta";
import type { Interval } from "./interval";
import { insist } from "./requirement";

/**
 * Limits for a share by inverting the binomial's own tails: never covers less than its level, and is wider for it.
 *
 * For the working only: it takes plants as independent. Not for effective plants: it needs whole counts.
 *
 * @param standing whole count, 0 ≤ standing ≤ setOut
 * @param setOut whole count, > 0
 * @param level confidence level, half of the error beyond each limit
 *
 * Edges: 0 of n starts at 0 and n of n ends at 1.
 * Source: clopper-pearson-1934, as beta quantiles.
 * Checked: tests/reference/single-proportion (Newcombe's Table I; R binom.test).
 * Example: clopperPearsonInterval(0, 20, 0.95) → 0 to 0.168.
 */
export function clopperPearsonInterval(standing: number, setOut: number, level: number): Interval {
  insist(
    Number.isInteger(standing) &&
      Number.isInteger(setOut) &&
      standing >= 0 &&
      standing <= setOut &&
      setOut > 0,
    "clopperPearsonInterval",
    "whole counts with 0 ≤ standing ≤ setOut and setOut > 0",
    `${standing} of ${setOut}`,
  );
  insist(level > 0 && level < 1, "clopperPearsonInterval", "0 < level < 1", level);
  const tail = (1 - level) / 2;
  return {
    low: standing === 0 ? 0 : betaQuantile(tail, standing, setOut - standing + 1),
    high: standing === setOut ? 1 : 1 - betaQuantile(tail, setOut - standing, standing + 1),
  };
}
