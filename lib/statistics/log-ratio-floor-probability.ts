import type { ContrastEstimate } from "./contrast";
import { insist } from "./requirement";
import { studentTCdf } from "./student-t";

/**
 * P(variety / check ≥ floor) from a log ratio and its standard error, on t. Null where the log ratio has no standard
 * error (its reason says why).
 *
 * Checked: tests/unit/statistics/yield-ratio.test.ts (it is (1 + level)/2 at the lower limit).
 */
export function logRatioFloorProbability(log: ContrastEstimate, floor: number): number | null {
  insist(floor > 0 && Number.isFinite(floor), "logRatioFloorProbability", "a finite floor > 0", floor);
  if (log.estimate === null || log.se === null || log.df === null) return null;
  return studentTCdf((log.estimate - Math.log(floor)) / log.se, log.df);
}
