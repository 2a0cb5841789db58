import { CholeskyDecomposition, Matrix } from "ml-matrix";
import type { Factor } from "./factor";
import type { LinearModel } from "./linear-model";

/** What restricted likelihood needs of the observations: cross-products only, so its cost does not grow with them. */
export interface CrossProducts {
  /** Observations less fixed columns. */
  df: number;
  /** Of the indicator columns Z of all random terms, the fixed columns X, and the response cleared of X. */
  zz: Matrix;
  zx: Matrix;
  zy: Matrix;
  xx: Matrix;
  yy: number;
  /** Where each random term's columns start in Z; one more entry for the end. */
  starts: readonly number[];
}

/** Derivatives and weights at one set of variances; the random terms in order, the residual last. */
export interface LikelihoodAt {
  /** −2 × restricted log likelihood, up to a constant. */
  deviance: number;
  /** Variances of the random terms, then of the residual. */
  variances: number[];
  /** Covariance of the fixed coefficients, and their shift from least squares. */
  phi: Matrix;
  shift: Matrix;
  /** Z'V⁻¹X, Z'V⁻¹Z, Z'PZ and Z'Py. */
  zvx: Matrix;
  zvz: Matrix;
  zpz: Matrix;
  zpy: Matrix;
  gradient: number[];
  /** tr(P G_i P G_j), twice the expected information. */
  expected: Matrix;
  /** y'P G_i P G_j P y, twice the average information. */
  average: Matrix;
}

/** Cross-products of a fit with random terms; `fixed` gives the residuals that stand for the response. */
export function crossProducts(fixed: LinearModel, random: readonly Factor[]): CrossProducts {
  const { design, kept, residuals, rank } = fixed;
  const starts = [0];
  for (const { levels } of random) starts.push(starts[starts.length - 1] + levels.length);
  const size = starts[random.length];
  const zz = Matrix.zeros(size, size);
  const zx = Matrix.zeros(size, rank);
  const zy = Matrix.zeros(size, 1);
  const xx = Matrix.zeros(rank, rank);
  let yy = 0;
  const x = kept.map((place) => design.columns[place]);
  for (let plot = 0; plot < design.observations; plot += 1) {
    yy += residuals[plot] ** 2;
    const places = random.map(({ codes }, term) => starts[term] + codes[plot]);
    for (const place of places) {
      zy.set(place, 0, zy.get(place, 0) + residuals[plot]);
      for (const other of places) zz.set(place, other, zz.get(place, other) + 1);
      for (let column = 0; column < rank; column += 1)
        if (x[column][plot] !== 0) zx.set(place, column, zx.get(place, column) + x[column][plot]);
    }
  }
  for (let one = 0; one < rank; one += 1)
    for (let other = 0; other <= one; other += 1) {
      let sum = 0;
      for (let plot = 0; plot < design.observations; plot += 1) sum += x[one][plot] * x[other][plot];
      xx.set(one, other, sum);
      xx.set(other, one, sum);
    }
  return { df: design.observations - rank, zz, zx, zy, xx, yy, starts };
}

/** V⁻¹ at given ratios of the variances to the residual's, through the root of I + ΛZ'ZΛ. */
function weighed(products: CrossProducts, ratios: readonly number[]) {
  const { zz, zx, zy, xx, yy, starts, df } = products;
  const size = zz.rows;
  const scale = new Float64Array(size);
  for (let term = 0; term < ratios.length; term += 1)
    scale.fill(Math.sqrt(ratios[term]), starts[term], starts[term + 1]);
  const inner = Matrix.eye(size);
  for (let row = 0; row < size; row += 1)
    for (let column = 0; column < size; column += 1)
      inner.set(row, column, inner.get(row, column) + zz.get(row, column) * (scale[row] * scale[column]));
  const root = new CholeskyDecomposition(inner).lowerTriangularMatrix;
  const forward = (right: Matrix) => forwardSolved(root, right, scale);
  const [onX, onY] = [forward(zx), forward(zy)];
  const xvx = Matrix.sub(xx, onX.transpose().mmul(onX));
  const xvy = onX.transpose().mmul(onY).mul(-1);
  const xRoot = new CholeskyDecomposition(xvx);
  const shift = xRoot.solve(xvy);
  const fit = yy - squares(onY) - dot(xvy, shift);
  const deviance =
    2 * logDiagonal(root) + 2 * logDiagonal(xRoot.lowerTriangularMatrix) + df * Math.log(fit / df);
  return { root, scale, forward, onX, onY, xRoot, shift, fit, deviance };
}

/** −2 × restricted log likelihood at given ratios, the residual variance at its best; and that variance. */
export function profiledDeviance(
  products: CrossProducts,
  ratios: readonly number[],
): { deviance: number; residual: number } {
  const { deviance, fit } = weighed(products, ratios);
  return { deviance, residual: fit / products.df };
}

/**
 * Likelihood with its derivatives at given ratios, the residual variance at its best.
 *
 * Source: patterson-thompson-1971; average information after gilmour-1995. Terms in the residual follow from PVP = P, so
 * that nothing larger than Z'Z is ever formed.
 */
export function likelihoodAt(products: CrossProducts, ratios: readonly number[]): LikelihoodAt {
  const { zz, zx, zy, starts, df } = products;
  const { forward, onX, onY, xRoot, shift, fit, deviance } = weighed(products, ratios);
  const residual = fit / df;
  const variances = ratios.map((ratio) => ratio * residual);
  const onZ = forward(zz);
  const back = onZ.transpose();
  const zvz = Matrix.sub(zz, back.mmul(onZ)).div(residual);
  const zvx = Matrix.sub(zx, back.mmul(onX)).div(residual);
  const phi = xRoot.solve(Matrix.eye(zx.columns)).mul(residual);
  const zpz = Matrix.sub(zvz, zvx.mmul(phi).mmul(zvx.transpose()));
  const zpy = Matrix.sub(Matrix.sub(zy, back.mmul(onY)).div(residual), zvx.mmul(shift));

  const terms = ratios.length;
  const expected = Matrix.zeros(terms + 1, terms + 1);
  const average = Matrix.zeros(terms + 1, terms + 1);
  const traces = ratios.map((_, term) => {
    let sum = 0;
    for (let place = starts[term]; place < starts[term + 1]; place += 1) sum += zpz.get(place, place);
    return sum;
  });
  const lengths = ratios.map((_, term) => {
    let sum = 0;
    for (let place = starts[term]; place < starts[term + 1]; place += 1) sum += zpy.get(place, 0) ** 2;
    return sum;
  });
  for (let one = 0; one < terms; one += 1)
    for (let other = 0; other <= one; other += 1) {
      let [squared, along] = [0, 0];
      for (let row = starts[one]; row < starts[one + 1]; row += 1)
        for (let column = starts[other]; column < starts[other + 1]; column += 1) {
          const value = zpz.get(row, column);
          squared += value * value;
          along += zpy.get(row, 0) * value * zpy.get(column, 0);
        }
      expected.set(one, other, squared);
      expected.set(other, one, squared);
      average.set(one, other, along);
      average.set(other, one, along);
    }
  const less = (whole: number, part: (term: number) => number) =>
    variances.reduce((left, variance, term) => left - variance * part(term), whole) / residual;
  const traceP = less(df, (term) => traces[term]);
  // With the residual variance at its best y'Py is its df.
  const lengthP = less(df, (term) => lengths[term]);
  for (let term = 0; term < terms; term += 1) {
    const [e, a] = [
      less(traces[term], (other) => expected.get(term, other)),
      less(lengths[term], (other) => average.get(term, other)),
    ];
    expected.set(term, terms, e);
    expected.set(terms, term, e);
    average.set(term, terms, a);
    average.set(terms, term, a);
  }
  expected.set(
    terms,
    terms,
    less(traceP, (term) => expected.get(term, terms)),
  );
  average.set(
    terms,
    terms,
    less(lengthP, (term) => average.get(term, terms)),
  );
  const gradient = [...ratios.map((_, term) => (lengths[term] - traces[term]) / 2), (lengthP - traceP) / 2];
  return {
    deviance,
    variances: [...variances, residual],
    phi,
    shift,
    zvx,
    zvz,
    zpz,
    zpy,
    gradient,
    expected,
    average,
  };
}

/** L⁻¹ Λ right. */
function forwardSolved(root: Matrix, right: Matrix, scale: Float64Array): Matrix {
  const solved = new Matrix(right.rows, right.columns);
  for (let row = 0; row < right.rows; row += 1)
    for (let column = 0; column < right.columns; column += 1) {
      let left = scale[row] * right.get(row, column);
      for (let k = 0; k < row; k += 1) left -= root.get(row, k) * solved.get(k, column);
      solved.set(row, column, left / root.get(row, row));
    }
  return solved;
}

function logDiagonal(root: Matrix): number {
  let sum = 0;
  for (let place = 0; place < root.rows; place += 1) sum += Math.log(root.get(place, place));
  return sum;
}

function squares(column: Matrix): number {
  return dot(column, column);
}

function dot(one: Matrix, other: Matrix): number {
  let sum = 0;
  for (let row = 0; row < one.rows; row += 1) sum += one.get(row, 0) * other.get(row, 0);
  return sum;
}
