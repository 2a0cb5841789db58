import { inverse, Matrix, QrDecomposition } from "ml-matrix";
import { type Coding, type DesignMatrix, designMatrix, type Term } from "./design-matrix";
import type { Variable } from "./factor";
import { independentColumns } from "./independent-columns";
import { insist } from "./requirement";

/** What contrasts and marginal means need of a fitted model, fixed or mixed. */
export interface FittedModel {
  design: DesignMatrix;
  /** Places of the columns that were fitted; the others are aliased with earlier ones. */
  kept: readonly number[];
  /** Of the fitted columns. */
  coefficients: Float64Array;
  /** Of the coefficients; null where there is no residual df to tell it from. */
  covariance: Matrix | null;
  /** For each aliased column its make-up of fitted ones: [place, weights]. */
  aliases: readonly (readonly [number, Float64Array])[];
  /** True where the model leaves nothing over, so that no error can be put to an estimate. */
  leavesNothing: boolean;
  /** Degrees of freedom of a contrast given by weights on the fitted columns. */
  dfOf(weights: Float64Array): number;
}

export interface LinearModel extends FittedModel {
  rank: number;
  residualDf: number;
  /** Names of the columns that others already explain. */
  aliased: string[];
  fitted: Float64Array;
  residuals: Float64Array;
  /** Diagonal of the hat matrix. */
  leverages: Float64Array;
  /** Covariance of the coefficients at a residual mean square of 1. */
  unscaled: Matrix;
  /** Squared length of the response along each fitted column, cleared of the earlier ones. */
  columnSs: Float64Array;
  residualSs: number;
  /** Null without residual df. */
  residualMs: number | null;
  /** About the mean. */
  totalSs: number;
}

/**
 * Least squares of a response on factors, covariates and their interactions.
 *
 * For yields of whole plots: one observation a plot. Not for plants within plots, nor for plots within main plots
 * (mixed model).
 *
 * @param response one finite number an observation; plots without one are left out beforehand
 * @param terms in the order in which sums of squares are to be taken
 * @returns fit with residuals and leverages; hand it to `analysisOfVariance`, `marginalMeans`, `contrast`
 *
 * Conventions: Householder QR on the columns that earlier ones do not explain; the response is centred before anything
 * is squared, so that a large common offset costs no digits.
 * Edges: collinear factors leave `aliased` columns, and contrasts that need them are not estimable; as many columns as
 * observations leave no residual df and null for the mean square; a perfect fit says `leavesNothing`.
 * Source: golub-van-loan-2013, section 5.3; centring after simon-lesage-1989.
 * Checked: tests/reference/analysis-of-variance (NIST StRD, R lm), tests/unit/statistics/linear-model.test.ts.
 * Example: yields 3, 5 in block 1 and 4, 8 in block 2 of varieties A, B → residual mean square 1 on 1 df.
 */
export function linearModel(
  response: readonly number[],
  variables: readonly Variable[],
  terms: readonly Term[],
  coding: Coding = "treatment",
): LinearModel {
  const bad = response.find((value) => !Number.isFinite(value));
  insist(bad === undefined, "linearModel", "finite responses", bad ?? "");
  const design = designMatrix(variables, terms, coding);
  const n = response.length;
  insist(n === design.observations && n > 0, "linearModel", "a response per observation", n);

  const base = response[0];
  const shift = response.reduce((sum, value) => sum + (value - base), 0) / n;
  const centred = Float64Array.from(response, (value) => value - base - shift);

  const kept = independentColumns(design.columns);
  const rank = kept.length;
  const x = new Matrix(n, rank);
  for (let row = 0; row < n; row += 1)
    for (let column = 0; column < rank; column += 1) x.set(row, column, design.columns[kept[column]][row]);
  const qr = new QrDecomposition(x);
  const q = qr.orthogonalMatrix;
  const rootInverse = inverse(qr.upperTriangularMatrix);

  const effects = new Float64Array(rank);
  const residuals = Float64Array.from(centred);
  // A second pass picks up what rounding left behind in the first.
  for (let pass = 0; pass < 2; pass += 1)
    for (let column = 0; column < rank; column += 1) {
      let along = 0;
      for (let row = 0; row < n; row += 1) along += q.get(row, column) * residuals[row];
      effects[column] += along;
      for (let row = 0; row < n; row += 1) residuals[row] -= along * q.get(row, column);
    }
  const leverages = Float64Array.from({ length: n }, (_, row) => {
    let sum = 0;
    for (let column = 0; column < rank; column += 1) sum += q.get(row, column) ** 2;
    return sum;
  });
  const coefficients = weighted(rootInverse, effects);
  coefficients[0] += base + shift;

  const unscaled = rootInverse.mmul(rootInverse.transpose());
  const residualDf = n - rank;
  const totalSs = squares(centred);
  const leavesNothing = residualDf === 0 || squares(residuals) <= 1e-24 * totalSs || totalSs === 0;
  const residualSs = leavesNothing ? 0 : squares(residuals);
  const residualMs = residualDf === 0 ? null : residualSs / residualDf;
  const aliases = design.columns.flatMap((column, place) => {
    if (kept.includes(place)) return [];
    const along = new Float64Array(rank);
    for (let k = 0; k < rank; k += 1)
      for (let row = 0; row < n; row += 1) along[k] += q.get(row, k) * column[row];
    return [[place, weighted(rootInverse, along)] as const];
  });
  return {
    design,
    kept,
    coefficients,
    covariance: residualMs === null ? null : Matrix.mul(unscaled, residualMs),
    aliases,
    leavesNothing,
    dfOf: () => residualDf,
    rank,
    residualDf,
    aliased: aliases.map(([place]) => design.names[place]),
    fitted: Float64Array.from(response, (value, row) => value - residuals[row]),
    residuals,
    leverages,
    unscaled,
    columnSs: effects.map((effect) => effect ** 2),
    residualSs,
    residualMs,
    totalSs,
  };
}

function weighted(matrix: Matrix, vector: Float64Array): Float64Array {
  return Float64Array.from({ length: matrix.rows }, (_, row) => {
    let sum = 0;
    for (let column = 0; column < vector.length; column += 1) sum += matrix.get(row, column) * vector[column];
    return sum;
  });
}

function squares(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value * value;
  return sum;
}
