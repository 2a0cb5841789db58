import { analysisOfVariance } from "./analysis-of-variance";
import type { Covariate } from "./factor";
import { type LinearModel, linearModel } from "./linear-model";
import { noVarianceRatio, type VarianceRatio } from "./variance-ratio";

/**
 * Tukey's one degree of freedom for non-additivity: do varieties differ more where the ground is better?
 *
 * A check on block + variety (or rows + columns + variety): a small p says that a log scale may fit better. It does not
 * choose the analysis, which was chosen beforehand.
 *
 * @param model additive
 * @returns F on 1 and residual df − 1
 *
 * Convention: the squared fitted values, centred, are fitted last; in complete blocks this is Tukey's own sum of squares.
 * Edges: fewer than two residual df, or fitted values that do not vary, give none.
 * Source: tukey-1949; general layouts after Tukey's own remark in Biometrics 11:111–113 (1955).
 * Checked: tests/reference/block-trial (R).
 */
export function tukeyOneDf(model: LinearModel): VarianceRatio {
  if (model.residualDf < 2) return noVarianceRatio(1, "no residual df");
  if (model.leavesNothing) return noVarianceRatio(1, "no variation");
  const mean = model.fitted.reduce((sum, value) => sum + value, 0) / model.fitted.length;
  const centred = Array.from(model.fitted, (value) => value - mean);
  const explained = centred.reduce((sum, value) => sum + value * value, 0);
  if (explained <= 1e-20 * model.totalSs) return noVarianceRatio(1, "not estimable");
  const square: Covariate = { name: "square", values: centred.map((value) => value * value) };
  const response = Array.from(model.fitted, (value, plot) => value + model.residuals[plot]);
  const { variables, terms } = model.design;
  const wider = linearModel(response, [...variables, square], [...terms, ["square"]]);
  const { df, f, p, reason } = analysisOfVariance(wider)[terms.length];
  if (df === 0 || reason !== null) return noVarianceRatio(1, reason ?? "not estimable");
  return { f, df1: 1, df2: wider.residualDf, p, reason: null };
}
