import { inverse, Matrix } from "ml-matrix";
import type { BinomialRows } from "./binomial-model";
import { chiSquareQuantile, chiSquareUpper } from "./chi-square";
import { columnMakeUp } from "./column-make-up";
import { isEstimable } from "./contrast";
import { designMatrix, type Term } from "./design-matrix";
import type { Variable } from "./factor";
import { independentColumns } from "./independent-columns";
import type { FittedModel } from "./linear-model";
import { insist } from "./requirement";
import { rootBySecant } from "./root-by-secant";

/** A penalised fit; `contrast` gives its Wald limits, `firthContrast` the profile limits that should be shown. */
export interface FirthLogistic extends FittedModel {
  /** Log likelihood (without binomial coefficients) + ½ log |information|. */
  penalisedLogLikelihood: number;
  fitted: Float64Array;
  rows: BinomialRows;
}

/**
 * Logistic regression by Firth's penalised likelihood: finite estimates and limits even where a variety lost all or none.
 *
 * **It takes plants as independent: for the working.** Where limits matter hand a contrast to `firthContrast`.
 *
 * @param rows one a plot, or a plant
 * @param terms as in `binomialModel`
 *
 * Conventions: penalty ½ log |information|; standard errors from the inverse information at the estimate (without the
 * penalty's curvature), as others print them.
 * Edges: no rows with plants, nothing estimable; aliased columns as in `linearModel`.
 * Source: firth-1993; heinze-schemper-2002.
 * Checked: tests/reference/firth (endometrial cancer, published and R; lizards); plain twin by search.
 * Example: 8 of 8 against 3 of 8 → log odds ratio 3.29, profile limits 0.75 to 8.27.
 */
export function firthLogistic(
  rows: BinomialRows,
  variables: readonly Variable[],
  terms: readonly Term[],
): FirthLogistic {
  const { hits, setOut } = rows;
  insist(hits.length === setOut.length, "firthLogistic", "as many counts as rows", hits.length);
  for (const [row, plants] of setOut.entries())
    insist(
      hits[row] >= 0 && hits[row] <= plants && Number.isFinite(plants),
      "firthLogistic",
      "0 ≤ hits ≤ setOut",
      `${hits[row]} of ${plants}`,
    );
  const design = designMatrix(variables, terms);
  const held = setOut.flatMap((plants, row) => (plants > 0 ? [row] : []));
  const columns = design.columns.map((column) => Float64Array.from(held, (row) => column[row]));
  const kept = held.length === 0 ? [] : independentColumns(columns);
  const x = kept.map((place) => columns[place]);
  const likelihood = penalised(
    x,
    held.map((row) => hits[row]),
    held.map((row) => setOut[row]),
  );
  const every = kept.map((_, k) => k);
  const at = climb(likelihood, new Float64Array(kept.length), every);
  const fitted = Float64Array.from(design.columns[0], (_, row) => {
    const predictor = kept.reduce((sum, place, k) => sum + at.beta[k] * design.columns[place][row], 0);
    return 1 / (1 + Math.exp(-predictor));
  });
  return {
    design,
    kept,
    coefficients: at.beta,
    covariance: kept.length === 0 ? null : at.inverse,
    aliases: columnMakeUp(columns, kept),
    leavesNothing: false,
    dfOf: () => Number.POSITIVE_INFINITY,
    penalisedLogLikelihood: at.height,
    fitted,
    rows,
  };
}

export interface FirthContrast {
  estimate: number | null;
  se: number | null;
  /** Profile limits; null with a reason where the profile never falls low enough. */
  low: number | null;
  high: number | null;
  /** Penalised likelihood ratio against 0. */
  chiSquare: number | null;
  p: number | null;
  reason: "not estimable" | "no end" | null;
}

/**
 * A weighted sum of coefficients with profile penalised-likelihood limits: all values that a penalised likelihood ratio
 * test at this level would not refuse. Much better than estimate ± z × standard error where a variety lost all or none.
 *
 * @param weights one a column of the design (differences of `designRow`s)
 *
 * Source: heinze-schemper-2002; the penalty keeps the information of all coefficients, the fixed one included.
 */
export function firthContrast(model: FirthLogistic, weights: Float64Array, level: number): FirthContrast {
  insist(level > 0 && level < 1, "firthContrast", "0 < level < 1", level);
  const nothing = { estimate: null, se: null, low: null, high: null, chiSquare: null, p: null };
  const given = model.kept.map((place) => weights[place]);
  if (given.every((weight) => weight === 0) || !isEstimable(model, weights))
    return { ...nothing, reason: "not estimable" };
  // The contrast takes the place of one coefficient, so that fixing it is fixing one parameter.
  const pivot = given.reduce((best, weight, k) => (Math.abs(weight) > Math.abs(given[best]) ? k : best), 0);
  const { hits, setOut } = model.rows;
  const held = setOut.flatMap((plants, row) => (plants > 0 ? [row] : []));
  const x = model.kept.map((place, k) =>
    Float64Array.from(held, (row) => {
      const lead = model.design.columns[model.kept[pivot]][row] / given[pivot];
      return k === pivot ? lead : model.design.columns[place][row] - given[k] * lead;
    }),
  );
  const likelihood = penalised(
    x,
    held.map((row) => hits[row]),
    held.map((row) => setOut[row]),
  );
  const estimate = given.reduce((sum, weight, k) => sum + weight * model.coefficients[k], 0);
  const beta = Float64Array.from(model.coefficients);
  beta[pivot] = estimate;
  const top = likelihood(beta);
  const se = Math.sqrt(top.inverse.get(pivot, pivot));
  const others = given.flatMap((_, k) => (k === pivot ? [] : [k]));
  const profile = (from: Float64Array, value: number) => {
    const start = Float64Array.from(from);
    start[pivot] = value;
    return climb(likelihood, start, others);
  };
  const chiSquare = Math.max(0, 2 * (top.height - profile(beta, 0).height));
  const drop = chiSquareQuantile(level, 1) / 2;
  const limit = (side: -1 | 1): number | null => {
    let inner = estimate;
    let from: Float64Array = beta;
    for (let reach = se; reach < 1e6 * se; reach *= 2) {
      const outer = estimate + side * reach;
      const there = profile(from, outer);
      if (top.height - there.height > drop) {
        const excess = (value: number) => {
          const at = profile(from, value);
          from = at.beta;
          return top.height - at.height - drop;
        };
        return rootBySecant(excess, inner, outer, 1e-12 * (1 + Math.abs(outer)));
      }
      inner = outer;
      from = there.beta;
    }
    return null;
  };
  const [low, high] = [limit(-1), limit(1)];
  const reason = low === null || high === null ? "no end" : null;
  return { estimate, se, low, high, chiSquare, p: chiSquareUpper(chiSquare, 1), reason };
}

interface Point {
  beta: Float64Array;
  height: number;
  /** Modified score: the penalised likelihood's slope. */
  slope: Float64Array;
  inverse: Matrix;
  information: Matrix;
}

/** The penalised log likelihood with its slope. */
function penalised(
  x: readonly Float64Array[],
  hits: readonly number[],
  setOut: readonly number[],
): (beta: Float64Array) => Point {
  const size = x.length;
  return (beta) => {
    const information = new Matrix(size, size);
    const share = new Float64Array(hits.length);
    let height = 0;
    for (let row = 0; row < hits.length; row += 1) {
      let predictor = 0;
      for (let k = 0; k < size; k += 1) predictor += beta[k] * x[k][row];
      share[row] = 1 / (1 + Math.exp(-predictor));
      // log(1 + e^η) without overflow.
      height += hits[row] * predictor - setOut[row] * softPlus(predictor);
      const weight = setOut[row] * share[row] * (1 - share[row]);
      for (let k = 0; k < size; k += 1)
        for (let l = 0; l <= k; l += 1)
          information.set(k, l, information.get(k, l) + weight * x[k][row] * x[l][row]);
    }
    for (let k = 0; k < size; k += 1)
      for (let l = 0; l < k; l += 1) information.set(l, k, information.get(k, l));
    const { logDeterminant, inverted } = rootOf(information);
    const slope = new Float64Array(size);
    for (let row = 0; row < hits.length; row += 1) {
      let leverage = 0;
      for (let k = 0; k < size; k += 1)
        for (let l = 0; l < size; l += 1) leverage += x[k][row] * inverted.get(k, l) * x[l][row];
      leverage *= setOut[row] * share[row] * (1 - share[row]);
      const pull = hits[row] - setOut[row] * share[row] + leverage * (0.5 - share[row]);
      for (let k = 0; k < size; k += 1) slope[k] += x[k][row] * pull;
    }
    return { beta, height: height + logDeterminant / 2, slope, inverse: inverted, information };
  };
}

const softPlus = (value: number) => Math.max(0, value) + Math.log1p(Math.exp(-Math.abs(value)));

/** Inverse and log determinant of a positive definite matrix, by Cholesky; −∞ where it is not. */
function rootOf(matrix: Matrix): { logDeterminant: number; inverted: Matrix } {
  const size = matrix.rows;
  const root = new Matrix(size, size);
  let logDeterminant = 0;
  for (let row = 0; row < size; row += 1)
    for (let column = 0; column <= row; column += 1) {
      let sum = matrix.get(row, column);
      for (let k = 0; k < column; k += 1) sum -= root.get(row, k) * root.get(column, k);
      if (row > column) root.set(row, column, sum / root.get(column, column));
      else if (sum > 0) {
        root.set(row, row, Math.sqrt(sum));
        logDeterminant += Math.log(sum);
      } else return { logDeterminant: Number.NEGATIVE_INFINITY, inverted: Matrix.eye(size, size) };
    }
  const back = size === 0 ? root : inverse(root);
  return { logDeterminant, inverted: back.transpose().mmul(back) };
}

/** Climbs the penalised likelihood over the free coefficients: scoring steps, none longer than 5, halved while it falls. */
function climb(
  likelihood: (beta: Float64Array) => Point,
  from: Float64Array,
  free: readonly number[],
): Point {
  let here = likelihood(from);
  if (free.length === 0) return here;
  for (let round = 0; round < 500; round += 1) {
    const move = inverse(here.information.selection([...free], [...free])).mmul(
      Matrix.columnVector(free.map((k) => here.slope[k])),
    );
    const longest = Math.max(...move.to1DArray().map(Math.abs));
    if (longest < 1e-11 * (1 + Math.max(...here.beta.map(Math.abs)))) break;
    let length = Math.min(1, 5 / longest);
    let next = here;
    for (let half = 0; half < 40; half += 1) {
      const beta = Float64Array.from(here.beta);
      for (const [index, k] of free.entries()) beta[k] += length * move.get(index, 0);
      next = likelihood(beta);
      if (next.height > here.height - 1e-13 * Math.abs(here.height)) break;
      length /= 2;
    }
    if (next === here) break;
    here = next;
  }
  return here;
}
