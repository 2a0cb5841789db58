import type { FittedModel } from "./linear-model";
import { insist } from "./requirement";
import { studentTCdf, studentTQuantile } from "./student-t";

/**
 * Why a number is missing. *Not estimable*: the plots do not connect what is compared. *No residual df*: the model uses
 * up every plot. *No variation*: the model leaves nothing over, so no error can be put to the estimate.
 */
export type WhyNot = "not estimable" | "no residual df" | "no variation";

/** An estimate from a model with its standard error, limits and two-sided p against 0; what is missing has a reason. */
export interface ContrastEstimate {
  estimate: number | null;
  se: number | null;
  df: number | null;
  low: number | null;
  high: number | null;
  t: number | null;
  p: number | null;
  reason: WhyNot | null;
}

/**
 * A weighted sum of a model's coefficients with t limits.
 *
 * @param model fixed or mixed
 * @param weights one a column of the design matrix (differences of `designRow`s)
 * @param level confidence level
 *
 * Edges: never a limit or p from a model that leaves nothing over, and no estimate from plots that do not connect what
 * is compared; `reason` says which.
 * Checked: tests/reference/analysis-of-variance (R emmeans).
 * Example: variety B − A of the example in `linearModel` → 3, standard error 1 on 1 df.
 */
export function contrast(model: FittedModel, weights: Float64Array, level: number): ContrastEstimate {
  insist(level > 0 && level < 1, "contrast", "0 < level < 1", level);
  const nothing = { estimate: null, se: null, df: null, low: null, high: null, t: null, p: null };
  if (!isEstimable(model, weights)) return { ...nothing, reason: "not estimable" };
  const onFitted = Float64Array.from(model.kept, (place) => weights[place]);
  let estimate = 0;
  for (let k = 0; k < onFitted.length; k += 1) estimate += onFitted[k] * model.coefficients[k];
  if (model.covariance === null) return { ...nothing, estimate, reason: "no residual df" };
  if (model.leavesNothing) return { ...nothing, estimate, reason: "no variation" };
  const variance = quadraticForm(model, onFitted, onFitted);
  // Below this the terms cancel to what rounding leaves.
  if (!(variance > 1e-13 * quadraticForm(model, onFitted, onFitted, Math.abs)))
    return { ...nothing, estimate, reason: "no variation" };
  const se = Math.sqrt(variance);
  const df = model.dfOf(onFitted);
  const half = studentTQuantile((1 + level) / 2, df) * se;
  const t = estimate / se;
  const p = 2 * studentTCdf(-Math.abs(t), df);
  return { estimate, se, df, low: estimate - half, high: estimate + half, t, p, reason: null };
}

/** Whether the plots tell the weighted sum at all: it must not lean on what is aliased. */
export function isEstimable(model: FittedModel, weights: Float64Array): boolean {
  insist(
    weights.length === model.design.columns.length && weights.every(Number.isFinite),
    "contrast",
    "a finite weight per column of the design",
    weights.length,
  );
  const scale = Math.max(...weights.map(Math.abs), 1e-300);
  return model.aliases.every(([place, make]) => {
    let implied = 0;
    for (let k = 0; k < make.length; k += 1) implied += make[k] * weights[model.kept[k]];
    return Math.abs(weights[place] - implied) <= 1e-8 * scale;
  });
}

/** Correlations of several contrasts, each as weights on the design's columns; null where a variance is missing. */
export function contrastCorrelation(
  model: FittedModel,
  contrasts: readonly Float64Array[],
): number[][] | null {
  if (model.covariance === null || model.leavesNothing) return null;
  const onFitted = contrasts.map((weights) => Float64Array.from(model.kept, (place) => weights[place]));
  const variances = onFitted.map((one) => quadraticForm(model, one, one));
  if (variances.some((variance) => !(variance > 0))) return null;
  return onFitted.map((one, i) =>
    onFitted.map((other, j) =>
      i === j ? 1 : quadraticForm(model, one, other) / Math.sqrt(variances[i] * variances[j]),
    ),
  );
}

function quadraticForm(
  model: FittedModel,
  left: Float64Array,
  right: Float64Array,
  size: (term: number) => number = (term) => term,
): number {
  if (model.covariance === null) return 0;
  let sum = 0;
  for (let i = 0; i < left.length; i += 1) {
    if (left[i] === 0) continue;
    for (let j = 0; j < right.length; j += 1)
      if (right[j] !== 0) sum += size(left[i] * model.covariance.get(i, j) * right[j]);
  }
  return sum;
}
