import { inverse, Matrix, pseudoInverse } from "ml-matrix";
import { fUpper } from "./f-distribution";
import type { CrossProducts, LikelihoodAt } from "./reml-likelihood";

/** An F test on scaled statistics: `f` with its degrees of freedom. */
export interface ScaledF {
  f: number;
  df1: number;
  df2: number;
  p: number;
}

/** How a mixed model's contrasts are judged: covariance of the coefficients, df of a contrast, F of several at once. */
export interface SmallSample {
  covariance: Matrix;
  dfOf(weights: Float64Array): number;
  /**
   * @param rows contrasts as weights on the fitted coefficients, linearly independent
   * @returns null where the plots are too few for the F that should stand in for the statistic to exist
   */
  jointTest(rows: Matrix, coefficients: Matrix): ScaledF | null;
}

/**
 * Kenward and Roger's adjustment: covariance of the fixed coefficients corrected for the variances having been estimated,
 * with df and F scaling that give back the exact tests of balanced designs.
 *
 * For mixed models of few plots, which is what a garden has.
 *
 * @param at likelihood at the estimates
 * @returns adjusted covariance Φ + 2Φ{Σ W_ij (Q_ij − P_i Φ P_j)}Φ, df and tests
 *
 * Conventions: W is the inverse expected information of all variances, those at zero included; the covariances are linear
 * in the variances, so R_ij = 0; for one contrast df = 2(l'Φl)²/Σ W_ij (l'ΦP_iΦl)(l'ΦP_jΦl).
 * Edges: a singular information gets its pseudo-inverse; where so few plots carry so many contrasts that the F that should
 * stand in has no moments (df come out at or below 0), there is no test.
 * Source: kenward-roger-1997, sections 2 and 3.
 * Checked: tests/reference/mixed-model (R pbkrtest, emmeans; a plain twin on dense matrices).
 */
export function kenwardRoger(products: CrossProducts, at: LikelihoodAt): SmallSample {
  const { phi, expected, variances } = at;
  const size = variances.length;
  const { slopes, curves } = slopesAndCurves(products, at);
  const information = covarianceOfVariances(expected);
  let inner = Matrix.zeros(phi.rows, phi.rows);
  for (let i = 0; i < size; i += 1)
    for (let j = 0; j < size; j += 1) {
      const weight = information.get(i, j);
      const less = slopes[i].mmul(phi).mmul(slopes[j]);
      inner = inner.add(Matrix.sub(curves[i][j], less).mul(weight));
    }
  const correction = phi.mmul(inner).mmul(phi).mul(2);
  const covariance = Matrix.add(phi, symmetric(correction));

  const dfOf = (weights: Float64Array) => {
    const row = Matrix.rowVector(weights);
    const along = row.mmul(phi);
    const variance = along.mmul(row.transpose()).get(0, 0);
    const changes = slopes.map((slope) => along.mmul(slope).mmul(along.transpose()).get(0, 0));
    let spread = 0;
    for (let i = 0; i < size; i += 1)
      for (let j = 0; j < size; j += 1) spread += information.get(i, j) * changes[i] * changes[j];
    return (2 * variance ** 2) / spread;
  };

  const jointTest = (rows: Matrix, coefficients: Matrix): ScaledF | null => {
    const df1 = rows.rows;
    const along = rows.mmul(phi);
    const inverseSpread = inverse(along.mmul(rows.transpose()));
    const parts = slopes.map((slope) => inverseSpread.mmul(along.mmul(slope).mmul(along.transpose())));
    let [a1, a2] = [0, 0];
    for (let i = 0; i < size; i += 1)
      for (let j = 0; j < size; j += 1) {
        const weight = information.get(i, j);
        a1 += weight * parts[i].trace() * parts[j].trace();
        a2 += weight * parts[i].mmul(parts[j]).trace();
      }
    const { scale, df2 } = scaling(df1, a1, a2);
    if (!(df2 > 0 && scale > 0)) return null;
    const values = rows.mmul(coefficients);
    const spread = rows.mmul(covariance).mmul(rows.transpose());
    const wald = values.transpose().mmul(inverse(spread)).mmul(values).get(0, 0) / df1;
    const f = scale * wald;
    return { f, df1, df2, p: fUpper(f, df1, df2) };
  };
  return { covariance, dfOf, jointTest };
}

/** Matches the first two moments of the Wald statistic to λ⁻¹F(ℓ, m), so that the exact cases come out exact. */
function scaling(count: number, a1: number, a2: number): { scale: number; df2: number } {
  const b = (a1 + 6 * a2) / (2 * count);
  const g = ((count + 1) * a1 - (count + 4) * a2) / ((count + 2) * a2);
  const below = 3 * count + 2 * (1 - g);
  const [c1, c2, c3] = [g / below, (count - g) / below, (count + 2 - g) / below];
  // In exact cases with two contrasts more than residual df both go to 0 together.
  const [top, bottom] = [1 - a2 / count, 1 - c2 * b];
  const ratio = Math.abs(top) < 1e-12 && Math.abs(bottom) < 1e-12 ? 1 : top / bottom;
  const rho = (ratio ** 2 * (1 + c1 * b)) / (1 - c3 * b) / count;
  const df2 = 4 + (count + 2) / (count * rho - 1);
  const scale = Math.abs(df2 - 2) < 1e-2 ? 1 : (df2 * top) / (df2 - 2);
  return { scale, df2 };
}

/** Covariance of the estimated variances from tr(P G_i P G_j). */
function covarianceOfVariances(expected: Matrix): Matrix {
  const size = expected.rows;
  const root = Array.from({ length: size }, (_, i) => Math.sqrt(expected.get(i, i)));
  const scaled = new Matrix(size, size);
  for (let i = 0; i < size; i += 1)
    for (let j = 0; j < size; j += 1) scaled.set(i, j, expected.get(i, j) / (root[i] * root[j]));
  const turned = pseudoInverse(scaled, 1e-10);
  for (let i = 0; i < size; i += 1)
    for (let j = 0; j < size; j += 1) turned.set(i, j, (2 * turned.get(i, j)) / (root[i] * root[j]));
  return turned;
}

/** P_i = −X'V⁻¹G_iV⁻¹X and Q_ij = X'V⁻¹G_iV⁻¹G_jV⁻¹X; the residual's by way of V = Σ σ²G. */
function slopesAndCurves(products: CrossProducts, at: LikelihoodAt) {
  const { starts } = products;
  const { zvx, zvz, variances, phi } = at;
  const terms = variances.length - 1;
  const residual = variances[terms];
  const part = (matrix: Matrix, row: number) =>
    matrix.subMatrix(starts[row], starts[row + 1] - 1, 0, matrix.columns - 1);
  const block = (row: number, column: number) =>
    zvz.subMatrix(starts[row], starts[row + 1] - 1, starts[column], starts[column + 1] - 1);
  const less = (whole: Matrix, parts: readonly Matrix[]) => {
    const left = whole.clone();
    for (const [term, one] of parts.entries()) left.sub(Matrix.mul(one, variances[term]));
    return left.div(residual);
  };
  const onTerm = Array.from({ length: terms }, (_, term) => part(zvx, term));
  const own = onTerm.map((one) => one.transpose().mmul(one));
  const twice = less(inverse(phi), own);
  const slopes = [...own, twice].map((one) => Matrix.mul(one, -1));

  const onward = onTerm.map((_, i) => onTerm.map((other, j) => block(i, j).mmul(other)));
  const curves: Matrix[][] = onTerm.map((one, i) => onTerm.map((_, j) => one.transpose().mmul(onward[i][j])));
  const beside = onTerm.map((one, i) => one.transpose().mmul(less(one, onward[i])));
  for (const [i, row] of curves.entries()) row.push(beside[i]);
  const thrice = less(twice, beside);
  curves.push([...beside.map((one) => one.transpose()), thrice]);
  return { slopes, curves };
}

function symmetric(matrix: Matrix): Matrix {
  return Matrix.add(matrix, matrix.transpose()).div(2);
}
