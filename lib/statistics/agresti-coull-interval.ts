import type { Interval } from "./interval";
import { normalQuantile } from "./normal";
import { insist } from "./requirement";

/**
 * Limits for a share by adding z²/2 to those that stand and to those that do not, then taking the plain normal limits.
 *
 * For the working only: it takes plants as independent. Wilson's limits have the same middle and are shorter.
 *
 * @param standing 0 ≤ standing ≤ setOut
 * @param setOut > 0
 * @param level confidence level
 * @returns limits cut to [0, 1]; the formula itself passes 0 or 1 near the ends
 *
 * Source: agresti-coull-1998; with z in place of 2, brown-cai-dasgupta-2001, equation 5.
 * Checked: tests/reference/single-proportion (R).
 * Example: agrestiCoullInterval(15, 148, 0.95) → 0.0614 to 0.1615.
 */
export function agrestiCoullInterval(standing: number, setOut: number, level: number): Interval {
  insist(
    standing >= 0 && standing <= setOut && setOut > 0 && Number.isFinite(setOut),
    "agrestiCoullInterval",
    "0 ≤ standing ≤ setOut and setOut > 0",
    `${standing} of ${setOut}`,
  );
  insist(level > 0 && level < 1, "agrestiCoullInterval", "0 < level < 1", level);
  const z = -normalQuantile((1 - level) / 2);
  const total = setOut + z * z;
  const share = (standing + (z * z) / 2) / total;
  const half = z * Math.sqrt((share * (1 - share)) / total);
  return { low: Math.max(0, share - half), high: Math.min(1, share + half) };
}
