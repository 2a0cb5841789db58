import { analysisOfVariance } from "./analysis-of-variance";
import { isFactor } from "./factor";
import type { LinearModel } from "./linear-model";

export interface RelativeEfficiency {
  /** How many plots without blocks each plot in blocks was worth. */
  efficiency: number;
  /** The same allowing for the residual df that blocks cost. */
  adjusted: number;
}

/**
 * What blocks were worth: the error variance expected of the same plots without blocks, over the one found.
 *
 * @param model block + treatment, fitted in that order
 * @returns null unless every treatment stood exactly once in every block, or where the model leaves nothing over
 *
 * Convention: ((b − 1)MSB + b(t − 1)MSE)/((bt − 1)MSE), times (f₁ + 1)(f₂ + 3)/((f₁ + 3)(f₂ + 1)) when adjusted, f₁ and f₂
 * the residual df with and without blocks.
 * Source: cochran-cox-1957, section 4.37 (Fisher's df correction in section 2.31).
 * Checked: tests/reference/block-trial (R).
 */
export function relativeEfficiency(model: LinearModel): RelativeEfficiency | null {
  const [block, treatment] = model.design.variables;
  if (model.design.terms.length !== 2 || !isFactor(block) || !isFactor(treatment)) return null;
  const cells = new Set(block.codes.map((code, plot) => `${code} ${treatment.codes[plot]}`));
  const [b, t] = [block.levels.length, treatment.levels.length];
  if (cells.size !== b * t || block.codes.length !== b * t) return null;
  if (model.leavesNothing || model.residualMs === null) return null;
  const msb = analysisOfVariance(model)[0].ms;
  if (msb === null) return null;
  const mse = model.residualMs;
  const efficiency = ((b - 1) * msb + b * (t - 1) * mse) / ((b * t - 1) * mse);
  const [blocked, unblocked] = [(b - 1) * (t - 1), t * (b - 1)];
  return {
    efficiency,
    adjusted: (efficiency * (blocked + 1) * (unblocked + 3)) / ((blocked + 3) * (unblocked + 1)),
  };
}
