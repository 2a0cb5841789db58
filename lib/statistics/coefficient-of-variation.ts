import type { LinearModel } from "./linear-model";

/**
 * Residual standard deviation in percent of the plain mean of all plots.
 *
 * To compare how rough a trial's ground was with other trials of the same crop; not a measure of any variety.
 *
 * @returns percent; null without residual df or where the mean is not above 0
 *
 * Source: cochran-cox-1957, chapter 2 (common practice).
 * Checked: tests/reference/block-trial (R).
 */
export function coefficientOfVariation(model: LinearModel): number | null {
  if (model.residualMs === null) return null;
  const plots = model.fitted.length;
  let mean = 0;
  for (let plot = 0; plot < plots; plot += 1) mean += (model.fitted[plot] + model.residuals[plot]) / plots;
  return mean > 0 ? (100 * Math.sqrt(model.residualMs)) / mean : null;
}
