import type { LinearModel } from "./linear-model";
import { insist } from "./requirement";
import { studentTQuantile } from "./student-t";

/**
 * How far two means of `plots` plots each must lie apart for their t limits to leave out 0.
 *
 * For one pair chosen beforehand; it makes no allowance for the number of pairs (`tukeyKramer`, `dunnett` do).
 *
 * @returns on the yield's scale; null where the model has no residual df or leaves nothing over
 *
 * Source: cochran-cox-1957, chapter 3.
 * Checked: tests/reference/block-trial (R).
 */
export function leastSignificantDifference(model: LinearModel, plots: number, level: number): number | null {
  insist(
    plots > 0 && level > 0 && level < 1,
    "leastSignificantDifference",
    "plots > 0, 0 < level < 1",
    plots,
  );
  if (model.residualMs === null || model.leavesNothing) return null;
  return studentTQuantile((1 + level) / 2, model.residualDf) * Math.sqrt((2 * model.residualMs) / plots);
}
