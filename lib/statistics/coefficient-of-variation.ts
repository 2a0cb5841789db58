/**
 * Residual standard deviation in percent of the plain mean of all plots.
 *
 * To compare how rough a trial's ground was with other trials of the same crop; not a measure of any variety.
 *
 * @param residualMs residual mean square of the model; null without residual df
 * @param mean plain mean of all plots
 * @returns percent; null without residual df or where the mean is not above 0
 *
 * Source: cochran-cox-1957, chapter 2 (common practice).
 * Checked: tests/reference/block-trial (R).
 */
export function coefficientOfVariation(residualMs: number | null, mean: number): number | null {
  return residualMs !== null && mean > 0 ? (100 * Math.sqrt(residualMs)) / mean : null;
}
