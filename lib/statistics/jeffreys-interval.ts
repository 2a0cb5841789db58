import { betaQuantile } from "./beta";
import type { Interval } from "./interval";
import { insist } from "./requirement";

/**
 * Limits for a share as quantiles of its posterior under Jeffreys' prior, Beta(½, ½).
 *
 * For the working only: it takes plants as independent.
 *
 * @param standing 0 ≤ standing ≤ setOut
 * @param setOut > 0
 * @param level posterior probability between the limits, half of the rest beyond each
 *
 * Edges: 0 of n starts at exactly 0 and n of n ends at exactly 1, as the source advises.
 * Source: brown-cai-dasgupta-2001, section 3.1.3.
 * Checked: tests/reference/single-proportion (R qbeta).
 * Example: jeffreysInterval(1, 29, 0.95) → 0.0037 to 0.150.
 */
export function jeffreysInterval(standing: number, setOut: number, level: number): Interval {
  insist(
    standing >= 0 && standing <= setOut && setOut > 0 && Number.isFinite(setOut),
    "jeffreysInterval",
    "0 ≤ standing ≤ setOut and setOut > 0",
    `${standing} of ${setOut}`,
  );
  insist(level > 0 && level < 1, "jeffreysInterval", "0 < level < 1", level);
  const tail = (1 - level) / 2;
  const lost = setOut - standing;
  return {
    low: standing === 0 ? 0 : betaQuantile(tail, standing + 0.5, lost + 0.5),
    high: lost === 0 ? 1 : 1 - betaQuantile(tail, lost + 0.5, standing + 0.5),
  };
}
