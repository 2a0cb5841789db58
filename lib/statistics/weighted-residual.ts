import { insist } from "./requirement";

export interface WeightedResidual {
  /** Values less the rank of the fit. */
  df: number;
  /** Weighted residual sum of squares over `df`; 0 when df is 0. */
  meanSquare: number;
  /** Σ weight × (1 − leverage) / df: the weight at which the mean square's expectation stands; 0 when df is 0. */
  meanWeight: number;
}

/**
 * What is left after weighted least squares of values on factors (full sets of 0/1 columns; aliased ones drop out).
 *
 * @param values one number a plot
 * @param weights > 0, one a plot
 * @param factors codes 0, 1, 2 … per plot, one list a factor
 *
 * Convention: columns are orthogonalised in the order given, twice over, on the scale √weight; a column that keeps less
 * than 1e-9 of its length is aliased.
 * Checked: tests/unit/statistics/weighted-residual.test.ts (R lm(weights =), hatvalues).
 */
export function weightedResidual(
  values: readonly number[],
  weights: readonly number[],
  factors: readonly (readonly number[])[],
): WeightedResidual {
  insist(
    weights.length === values.length && factors.every((codes) => codes.length === values.length),
    "weightedResidual",
    "as many weights and codes as values",
    `${values.length} values`,
  );
  const size = values.length;
  const root = Float64Array.from(weights, Math.sqrt);
  const residual = Float64Array.from(values, (value, plot) => value * root[plot]);
  const leverage = new Float64Array(size);
  const basis: Float64Array[] = [];
  for (const codes of factors) {
    const levels = Math.max(-1, ...codes) + 1;
    for (let level = 0; level < levels; level += 1) {
      const column = Float64Array.from(root, (weight, plot) => (codes[plot] === level ? weight : 0));
      const length = Math.sqrt(dot(column, column));
      for (let pass = 0; pass < 2; pass += 1)
        for (const earlier of basis) subtract(column, earlier, dot(column, earlier));
      const left = Math.sqrt(dot(column, column));
      if (left <= 1e-9 * length) continue;
      for (let plot = 0; plot < size; plot += 1) column[plot] /= left;
      basis.push(column);
    }
  }
  for (let pass = 0; pass < 2; pass += 1)
    for (const column of basis) subtract(residual, column, dot(residual, column));
  for (const column of basis) for (let plot = 0; plot < size; plot += 1) leverage[plot] += column[plot] ** 2;
  const df = size - basis.length;
  if (df === 0) return { df, meanSquare: 0, meanWeight: 0 };
  let weight = 0;
  for (let plot = 0; plot < size; plot += 1) weight += weights[plot] * (1 - leverage[plot]);
  return { df, meanSquare: dot(residual, residual) / df, meanWeight: weight / df };
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let index = 0; index < a.length; index += 1) sum += a[index] * b[index];
  return sum;
}

function subtract(from: Float64Array, direction: Float64Array, amount: number): void {
  for (let index = 0; index < from.length; index += 1) from[index] -= amount * direction[index];
}
