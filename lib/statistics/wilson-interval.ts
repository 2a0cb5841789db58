import type { Interval } from "./interval";
import { normalQuantile } from "./normal";
import { insist } from "./requirement";

/**
 * Limits for a share by Wilson's score method: all shares that a z test at this level would not refuse.
 *
 * Use it with an effective number of plants for plants in plots; on bare counts it takes every plant as independent
 * and is far too narrow where losses clump (see CALIBRATION.md).
 *
 * @param standing how many stand; need not be whole, since effective plants are not
 * @param setOut out of how many, > 0
 * @param level confidence level, e.g. 0.95
 * @returns limits within [0, 1] that contain standing/setOut
 *
 * Conventions: two-sided, no continuity correction. Edges: the lower limit at 0 standing is exactly 0, the upper limit
 * at all standing exactly 1; the interval never has width 0.
 * Source: wilson-1927; equation as in newcombe-1998-single, method 3.
 * Checked: tests/reference/single-proportion (Newcombe's Table I; R prop.test without correction).
 * Example: wilsonInterval(20, 24, 0.95) → 0.641 to 0.933.
 */
export function wilsonInterval(standing: number, setOut: number, level: number): Interval {
  insist(
    standing >= 0 && standing <= setOut && Number.isFinite(setOut),
    "wilsonInterval",
    "0 ≤ standing ≤ setOut",
    () => `${standing} of ${setOut}`,
  );
  insist(setOut > 0, "wilsonInterval", "setOut > 0", setOut);
  insist(level > 0 && level < 1, "wilsonInterval", "0 < level < 1", level);
  const z = -normalQuantile((1 - level) / 2);
  const lost = setOut - standing;
  const middle = standing + (z * z) / 2;
  const half = z * Math.sqrt((standing * lost) / setOut + (z * z) / 4);
  const total = setOut + z * z;
  const share = standing / setOut;
  return {
    low: standing === 0 ? 0 : Math.min(share, Math.max(0, (middle - half) / total)),
    high: lost === 0 ? 1 : Math.max(share, Math.min(1, (middle + half) / total)),
  };
}
