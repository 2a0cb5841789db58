import { designMatrix, type Term } from "./design-matrix";
import type { Variable } from "./factor";
import { type Family, type GeneralisedModel, generalisedModel } from "./generalised-model";
import { insist } from "./requirement";

/** Counts of things that have no upper end, and what they were counted on. */
export interface CountRows {
  counts: readonly number[];
  /** Plants, square metres or days that each count was made on, > 0; 1 throughout for plain counts. */
  exposure: readonly number[];
}

/** *Quasi-Poisson*: variance in proportion to the mean, t on residual df. *Poisson*: **takes counts as independent**. */
export type CountScatter = "poisson" | "quasi-poisson";

/**
 * Log-linear regression of counts: larvae a plot, flower stems, slugs under a board. Contrasts are log rate ratios.
 *
 * @param rows one a plot
 * @param terms in order; put blocks first and varieties last
 *
 * Conventions: dispersion is Pearson's X² over the residual df.
 * Edges: a variety with no count at all is `endless` and its ratios are not estimable; the others stand.
 * Source: mccullagh-nelder-1989, chapter 6.
 * Checked: tests/reference/counts (R glm, quasipoisson); tests/unit/statistics/count-model.test.ts by hand.
 * Example: InsectSprays, spray C against A → log rate ratio −1.940, dispersion 1.508 on 66 df.
 */
export function countModel(
  rows: CountRows,
  variables: readonly Variable[],
  terms: readonly Term[],
  scatter: CountScatter,
): GeneralisedModel {
  insistOnCounts("countModel", rows);
  return fitCounts(
    "countModel",
    rows,
    variables,
    terms,
    poisson,
    scatter === "poisson" ? "known" : "pearson",
  );
}

export interface NegativeBinomialModel extends GeneralisedModel {
  /** Size θ: the variance is mean + mean²/θ. Null where there is no more scatter than Poisson (θ endless). */
  theta: number | null;
  thetaSe: number | null;
  logLikelihood: number;
  reason: "no more scatter than Poisson" | null;
}

/**
 * Log-linear regression of counts whose scatter grows faster than their mean, as counts of clumped animals do.
 *
 * Limits are normal and take θ as known: with few plots quasi-Poisson's t limits are the safer.
 *
 * @param rows one a plot; counts are whole
 *
 * Conventions: full maximum likelihood, coefficients and θ in turn until neither moves; standard errors of the
 * coefficients at the estimated θ (the two are orthogonal), of θ from its observed information.
 * Edges: where counts scatter no more than Poisson the fit is Poisson's, and said.
 * Source: lawless-1987.
 * Checked: tests/reference/counts (R MASS::glm.nb; Quine's absences, InsectSprays, warp breaks).
 */
export function negativeBinomialModel(
  rows: CountRows,
  variables: readonly Variable[],
  terms: readonly Term[],
): NegativeBinomialModel {
  insistOnCounts("negativeBinomialModel", rows);
  for (const count of rows.counts)
    insist(Number.isInteger(count), "negativeBinomialModel", "whole counts", count);
  const at = (family: Family, from?: Float64Array) =>
    fitCounts("negativeBinomialModel", rows, variables, terms, family, "known", from);
  let model = at(poisson);
  const { counts } = rows;
  const excess = counts.reduce((sum, count, row) => sum + (count - model.fitted[row]) ** 2 - count, 0);
  if (excess <= 0 || model.residualDf === 0) {
    const logLikelihood = counts.reduce(
      (sum, count, row) =>
        sum +
        (count === 0 ? 0 : count * Math.log(model.fitted[row])) -
        model.fitted[row] -
        logFactorial(count),
      0,
    );
    return { ...model, theta: null, thetaSe: null, logLikelihood, reason: "no more scatter than Poisson" };
  }
  // Moments give a start; then coefficients and θ in turn.
  const squares = model.fitted.reduce((sum, mean) => sum + mean * mean, 0);
  let theta = squares / excess;
  for (let round = 0; round < 200; round += 1) {
    model = at(negativeBinomial(theta), model.fitted);
    const next = likeliestTheta(counts, model.fitted, theta);
    const still = Math.abs(next / theta - 1) < 1e-11;
    theta = next;
    if (still) break;
  }
  model = at(negativeBinomial(theta), model.fitted);
  const { information } = slopeInTheta(counts, model.fitted, theta);
  const logLikelihood = counts.reduce((sum, count, row) => {
    const mean = model.fitted[row];
    let term = -logFactorial(count) - (theta + count) * Math.log1p(mean / theta);
    for (let k = 0; k < count; k += 1) term += Math.log(((theta + k) * mean) / theta);
    return sum + term;
  }, 0);
  return { ...model, theta, thetaSe: 1 / Math.sqrt(information), logLikelihood, reason: null };
}

function insistOnCounts(statistic: string, { counts, exposure }: CountRows): void {
  insist(counts.length === exposure.length, statistic, "as many exposures as counts", exposure.length);
  for (const [row, count] of counts.entries()) {
    insist(count >= 0 && Number.isFinite(count), statistic, "finite counts ≥ 0", count);
    insist(exposure[row] > 0 && Number.isFinite(exposure[row]), statistic, "exposure > 0", exposure[row]);
  }
}

function fitCounts(
  statistic: string,
  { counts, exposure }: CountRows,
  variables: readonly Variable[],
  terms: readonly Term[],
  family: Family,
  scatter: "known" | "pearson",
  from?: Float64Array,
): GeneralisedModel {
  return generalisedModel(
    statistic,
    designMatrix(variables, terms),
    Float64Array.from(counts),
    new Float64Array(counts.length).fill(1),
    Float64Array.from(exposure, Math.log),
    family,
    scatter,
    from,
  );
}

const loglinear = {
  mean: (predictor: number) => Math.exp(Math.max(-40, Math.min(40, predictor))),
  predictor: Math.log,
  slope: (_predictor: number, mean: number) => mean,
  start: (response: number) => response + 0.1,
  atEdge: (response: number, mean: number) => response === 0 && mean < 1e-9,
};

const poisson: Family = {
  ...loglinear,
  variance: (mean) => mean,
  deviance: (response, mean) =>
    2 * ((response === 0 ? 0 : response * Math.log(response / mean)) - (response - mean)),
};

function negativeBinomial(theta: number): Family {
  return {
    ...loglinear,
    variance: (mean) => mean + (mean * mean) / theta,
    bend: (response, mean) => (mean * (response + theta) * theta) / (mean + theta) ** 2,
    deviance: (response, mean) =>
      2 *
      ((response === 0 ? 0 : response * Math.log(response / mean)) -
        (response + theta) * Math.log((response + theta) / (mean + theta))),
  };
}

const logFactorial = (count: number) => {
  let sum = 0;
  for (let k = 2; k <= count; k += 1) sum += Math.log(k);
  return sum;
};

/** First derivative of the log likelihood in θ, and the observed information on it. */
function slopeInTheta(
  counts: readonly number[],
  means: Float64Array,
  theta: number,
): { slope: number; information: number } {
  let slope = 0;
  let information = 0;
  for (const [row, count] of counts.entries()) {
    const mean = means[row];
    // Σ 1/(θ + k) over k below the count is the difference of two digammas.
    for (let k = 0; k < count; k += 1) {
      slope += 1 / (theta + k);
      information += 1 / (theta + k) ** 2;
    }
    slope -= Math.log1p(mean / theta) + (count - mean) / (theta + mean);
    information -= 1 / theta - 1 / (theta + mean) - (mean - count) / (theta + mean) ** 2;
  }
  return { slope, information };
}

/** Newton on log θ from where it stands, kept to steps of at most 2 there. */
function likeliestTheta(counts: readonly number[], means: Float64Array, from: number): number {
  let theta = from;
  for (let step = 0; step < 100; step += 1) {
    const { slope, information } = slopeInTheta(counts, means, theta);
    const onLog = theta * slope;
    const bend = theta * theta * information - onLog;
    const move = bend > 0 ? onLog / bend : Math.sign(onLog);
    theta *= Math.exp(Math.max(-2, Math.min(2, move)));
    if (Math.abs(move) < 1e-13) break;
  }
  return theta;
}
