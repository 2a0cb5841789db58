import { insist } from "./requirement";

/**
 * The share that could still be lost although none was: the one-sided upper limit, about 3 in n at 95 %.
 *
 * @param effectivePlants how many independent plants the plants tell as much as, > 0
 * @param level one-sided confidence, e.g. 0.95
 * @returns 1 − (1 − level)^(1/effectivePlants)
 *
 * Source: hanley-lippman-hand-1983 (the rule of three), exact form; effective plants in place of plants.
 * Checked: tests/unit/statistics/deciding.test.ts (0 of 24: 0.1173; R qbeta(0.95, 1, 24)).
 * Example: noneLostLimit(24, 0.95) → 0.117, where the rule of three says 3/24 = 0.125.
 */
export function noneLostLimit(effectivePlants: number, level: number): number {
  insist(
    effectivePlants > 0 && Number.isFinite(effectivePlants),
    "noneLostLimit",
    "effectivePlants > 0",
    effectivePlants,
  );
  insist(level > 0 && level < 1, "noneLostLimit", "0 < level < 1", level);
  return -Math.expm1(Math.log1p(-level) / effectivePlants);
}
