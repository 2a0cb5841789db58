import { inverse, Matrix } from "ml-matrix";
import { type BinomialRows, binomialModel } from "./binomial-model";
import { columnMakeUp } from "./column-make-up";
import type { Term } from "./design-matrix";
import type { Factor, Variable } from "./factor";
import { gaussHermite } from "./gauss-hermite";
import { interceptMode } from "./intercept-mode";
import type { FittedModel } from "./linear-model";
import { logGamma } from "./log-gamma";
import { insist } from "./requirement";

/** Fixed effects on the log odds scale, given the random intercept; hand it to `contrast` (normal limits). */
export interface BinomialMixedModel extends FittedModel {
  /** Standard deviation of the intercepts of the clusters; 0 where it is at its edge, null where it has no end. */
  clusterSd: number | null;
  /** Binomial coefficients included. */
  logLikelihood: number | null;
  /** Most likely intercept of each cluster, in the order of the factor's levels. */
  intercepts: number[];
  endless: string[];
  reason: "no more scatter than binomial" | "clusters are all or nothing" | null;
}

const quadrature = gaussHermite(25);

/**
 * Logistic regression with one random intercept: plots (or herds, or blocks) share something that is not explained.
 *
 * Its effects are given the cluster, so they are a little farther from 0 than shares averaged over clusters would give.
 * With few clusters its limits are too narrow, as all limits from maximum likelihood are: for the working.
 *
 * @param rows one a plot, or several a cluster
 * @param terms fixed effects, as in `binomialModel`
 * @param clusters which rows share an intercept
 *
 * Conventions: maximum likelihood by adaptive Gauss–Hermite quadrature of 25 points, centred and scaled at each cluster's mode;
 * standard errors from the observed information of fixed effects and standard deviation together.
 * Edges: where rows scatter no more than binomially the standard deviation is 0, and said; where clusters are all or
 * nothing it has no end, and nothing is estimable; a variety that lost all or none is endless, as in `binomialModel`.
 * Source: pinheiro-bates-1995; information louis-1982.
 * Checked: tests/reference/binomial-mixed-model (R: quadrature of 25 and 100 points polished by Newton; lme4).
 * Example: contagious pleuropneumonia in 15 herds → standard deviation 0.6475, period 2 −0.991.
 */
export function binomialMixedModel(
  rows: BinomialRows,
  variables: readonly Variable[],
  terms: readonly Term[],
  clusters: Factor,
): BinomialMixedModel {
  insist(
    clusters.codes.length === rows.setOut.length,
    "binomialMixedModel",
    "a cluster per row",
    clusters.codes.length,
  );
  const plain = binomialModel(rows, variables, terms, "known");
  const { design } = plain;
  // Rows of a variety that lost all or none fit perfectly at its endless coefficient and say nothing of the clusters.
  const told = rows.setOut.flatMap((plants, row) => {
    const share = plain.fitted[row];
    const atEdge = share * plants < 1e-9 || (1 - share) * plants < 1e-9;
    return plants > 0 && !(plain.endless.length > 0 && atEdge) ? [row] : [];
  });
  const groups = clusters.levels.map((_, code) => told.filter((row) => clusters.codes[row] === code));
  const size = plain.kept.length;
  const problem: Problem = {
    x: plain.kept.map((place) => design.columns[place]),
    hits: rows.hits,
    setOut: rows.setOut,
    groups,
  };
  const constant = told.reduce((sum, row) => sum + logChoose(rows.setOut[row], rows.hits[row]), 0);
  const start = Float64Array.of(...plain.coefficients, 0);
  const fixed = {
    design,
    kept: plain.kept,
    aliases: columnMakeUp(
      design.columns.map((column) => Float64Array.from(told, (row) => column[row])),
      plain.kept,
    ),
    leavesNothing: false,
    dfOf: () => Number.POSITIVE_INFINITY,
    endless: plain.endless,
  };
  if (size === 0 || scatterAtZero(problem, plain.fitted) <= 0) {
    const at = marginal(problem, start);
    return {
      ...fixed,
      coefficients: plain.coefficients,
      covariance: plain.covariance,
      clusterSd: 0,
      logLikelihood: at.height + constant,
      intercepts: groups.map(() => 0),
      reason: "no more scatter than binomial",
    };
  }
  start[size] = 0.5;
  const { at, information } = climb(problem, start);
  const clusterSd = Math.abs(at.parameters[size]);
  if (clusterSd > 20 || !isPositiveDefinite(information))
    return {
      ...fixed,
      kept: [],
      aliases: columnMakeUp(design.columns, []),
      coefficients: new Float64Array(0),
      covariance: null,
      clusterSd: null,
      logLikelihood: null,
      intercepts: [],
      reason: "clusters are all or nothing",
    };
  const others = Array.from({ length: size }, (_, k) => k);
  return {
    ...fixed,
    coefficients: at.parameters.slice(0, size),
    covariance: inverse(information).selection(others, others),
    clusterSd,
    logLikelihood: at.height + constant,
    intercepts: at.modes.map((mode) => mode * at.parameters[size]),
    reason: null,
  };
}

interface Problem {
  x: readonly Float64Array[];
  hits: readonly number[];
  setOut: readonly number[];
  groups: readonly number[][];
}

const logChoose = (n: number, k: number) => logGamma(n + 1) - logGamma(k + 1) - logGamma(n - k + 1);

/** Curvature of the likelihood in the clusters' standard deviation at 0: not above 0, and 0 is where it peaks. */
function scatterAtZero({ hits, setOut, groups }: Problem, fitted: Float64Array): number {
  let sum = 0;
  for (const rows of groups) {
    let rest = 0;
    for (const row of rows) {
      rest += hits[row] - setOut[row] * fitted[row];
      sum -= setOut[row] * fitted[row] * (1 - fitted[row]);
    }
    sum += rest * rest;
  }
  return sum;
}

interface Point {
  parameters: Float64Array;
  height: number;
  slope: Float64Array;
  information: Float64Array;
  /** Mode of each cluster's standardised intercept. */
  modes: number[];
}

/**
 * The log likelihood with the intercepts integrated out, its slope and information (Louis: expected information of the
 * complete data less the variance of its slope), all by the same points. Parameters: fixed effects, then the standard
 * deviation, which may carry either sign.
 */
function marginal(problem: Problem, parameters: Float64Array): Point {
  const { nodes, weights } = quadrature;
  const { x, hits, setOut, groups } = problem;
  const size = x.length;
  const sd = parameters[size];
  const slope = new Float64Array(size + 1);
  const information = new Float64Array((size + 1) ** 2);
  const modes: number[] = [];
  let height = 0;
  const covariates = new Float64Array(size + 1);
  for (const rows of groups) {
    if (rows.length === 0) {
      modes.push(0);
      continue;
    }
    const base = rows.map((row) => {
      let sum = 0;
      for (let k = 0; k < size; k += 1) sum += parameters[k] * x[k][row];
      return sum;
    });
    const { mode, width } = interceptMode(
      base,
      rows.map((row) => hits[row]),
      rows.map((row) => setOut[row]),
      sd,
    );
    modes.push(mode);
    const points = Array.from(nodes, (node) => mode + width * node);
    const logs = points.map((z, q) => {
      let sum = Math.log(weights[q]) + (nodes[q] ** 2 - z ** 2) / 2 + Math.log(width);
      for (let index = 0; index < rows.length; index += 1) {
        const predictor = base[index] + sd * z;
        sum += hits[rows[index]] * predictor - setOut[rows[index]] * softPlus(predictor);
      }
      return sum;
    });
    const top = Math.max(...logs);
    const chance = logs.map((log) => Math.exp(log - top));
    const total = chance.reduce((sum, value) => sum + value, 0);
    height += top + Math.log(total);
    const mean = new Float64Array(size + 1);
    for (let q = 0; q < points.length; q += 1) {
      const p = chance[q] / total;
      const own = new Float64Array(size + 1);
      for (let index = 0; index < rows.length; index += 1) {
        const row = rows[index];
        const share = 1 / (1 + Math.exp(-base[index] - sd * points[q]));
        const rest = hits[row] - setOut[row] * share;
        const bend = p * setOut[row] * share * (1 - share);
        for (let k = 0; k < size; k += 1) covariates[k] = x[k][row];
        covariates[size] = points[q];
        for (let k = 0; k <= size; k += 1) {
          own[k] += covariates[k] * rest;
          for (let l = 0; l <= k; l += 1)
            information[k * (size + 1) + l] += bend * covariates[k] * covariates[l];
        }
      }
      for (let k = 0; k <= size; k += 1) {
        mean[k] += p * own[k];
        for (let l = 0; l <= k; l += 1) information[k * (size + 1) + l] -= p * own[k] * own[l];
      }
    }
    for (let k = 0; k <= size; k += 1) {
      slope[k] += mean[k];
      for (let l = 0; l <= k; l += 1) information[k * (size + 1) + l] += mean[k] * mean[l];
    }
  }
  for (let k = 0; k <= size; k += 1)
    for (let l = 0; l < k; l += 1) information[l * (size + 1) + k] = information[k * (size + 1) + l];
  return { parameters, height, slope, information, modes };
}

const softPlus = (value: number) => Math.max(0, value) + Math.log1p(Math.exp(-Math.abs(value)));

/** Newton's method; where the information is not positive definite, a short step up the slope. */
function climb(problem: Problem, start: Float64Array): { at: Point; information: Matrix } {
  const size = start.length;
  let at = marginal(problem, start);
  let information = Matrix.from1DArray(size, size, at.information);
  for (let round = 0; round < 100 && Math.abs(at.parameters[size - 1]) <= 20; round += 1) {
    const ridge = information.clone();
    for (let more = 1e-6; !isPositiveDefinite(ridge); more *= 10)
      for (let k = 0; k < size; k += 1) ridge.set(k, k, information.get(k, k) + more);
    const move = inverse(ridge)
      .mmul(Matrix.columnVector(Array.from(at.slope)))
      .to1DArray();
    const longest = Math.max(...move.map(Math.abs));
    let length = Math.min(1, 1 / longest);
    let next: Point | null = null;
    for (let half = 0; half < 12 && next === null; half += 1) {
      const tried = marginal(
        problem,
        at.parameters.map((value, k) => value + length * move[k]),
      );
      if (tried.height > at.height - 1e-13 * Math.abs(at.height)) next = tried;
      length /= 2;
    }
    // Where no step rises, what is left is the quadrature's own rounding.
    if (next === null) break;
    at = next;
    information = Matrix.from1DArray(size, size, at.information);
    if (longest < 1e-11) break;
  }
  return { at, information };
}

function isPositiveDefinite(matrix: Matrix): boolean {
  const size = matrix.rows;
  const root = new Matrix(size, size);
  for (let row = 0; row < size; row += 1)
    for (let column = 0; column <= row; column += 1) {
      let sum = matrix.get(row, column);
      for (let k = 0; k < column; k += 1) sum -= root.get(row, k) * root.get(column, k);
      if (row > column) root.set(row, column, sum / root.get(column, column));
      else if (sum > 0) root.set(row, row, Math.sqrt(sum));
      else return false;
    }
  return true;
}
