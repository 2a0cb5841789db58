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
 * Convention: columns are orthogonalised twice over, on the scale √weight; a column that keeps less
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
  const root = new Float64Array(size);
  const residual = new Float64Array(size);
  for (let plot = 0; plot < size; plot += 1) {
    root[plot] = Math.sqrt(weights[plot]);
    residual[plot] = values[plot] * root[plot];
  }
  const basis: Float64Array[] = [];
  // The factor with most levels comes first: its own columns are orthogonal as they are.
  const levelled = factors.map((codes) => ({ codes, levels: Math.max(-1, ...codes) + 1 }));
  levelled.sort((a, b) => b.levels - a.levels);
  levelled.forEach(({ codes, levels }, factor) => {
    for (let level = 0; level < levels; level += 1) {
      const column = new Float64Array(size);
      for (let plot = 0; plot < size; plot += 1) if (codes[plot] === level) column[plot] = root[plot];
      const length = Math.sqrt(dot(column, column));
      if (factor > 0)
        for (let pass = 0; pass < 2; pass += 1)
          for (const earlier of basis) subtract(column, earlier, dot(column, earlier));
      const left = Math.sqrt(dot(column, column));
      if (left <= 1e-9 * length) continue;
      for (let plot = 0; plot < size; plot += 1) column[plot] /= left;
      basis.push(column);
    }
  });
  for (let pass = 0; pass < 2; pass += 1)
    for (const column of basis) subtract(residual, column, dot(residual, column));
  const df = size - basis.length;
  if (df === 0) return { df, meanSquare: 0, meanWeight: 0 };
  let weight = 0;
  for (let plot = 0; plot < size; plot += 1) {
    let leverage = 0;
    for (const column of basis) leverage += column[plot] * column[plot];
    weight += weights[plot] * (1 - leverage);
  }
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
