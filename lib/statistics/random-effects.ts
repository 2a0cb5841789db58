import { chiSquareUpper } from "./chi-square";
import type { Interval } from "./interval";
import type { WinterEstimate } from "./pooled-contrast";
import { insist } from "./requirement";
import { rootBetween } from "./root-between";
import { studentTCdf, studentTQuantile } from "./student-t";

export interface RandomEffects {
  winters: number;
  mean: number;
  /** Null with one winter, as are limits, p, prediction and I². */
  se: number | null;
  limits: Interval | null;
  p: number | null;
  /** Hartung–Knapp prediction with t on k − 1 df. */
  prediction: Interval | null;
  /** τ², by REML; null with one winter. 0 is the edge, and said by being 0. */
  spreadVariance: number | null;
  heterogeneity: { q: number; df: number; p: number } | null;
  /** Share of an estimate's variance that is spread between winters. */
  iSquared: number | null;
  reason: "one winter" | null;
}

/**
 * A contrast over several winters by restricted maximum likelihood with Hartung–Knapp limits: for the working, and shown
 * first only from five winters. With two winters its limits are useless; `pooledContrast` is what to show.
 *
 * @param winters one estimate each
 * @param level confidence level
 *
 * Conventions: weights 1/(se² + τ²); the Hartung–Knapp multiplier √(Σ weight (estimate − mean)²/(k − 1)) is never let
 * below 1; t on k − 1 df; Q at weights 1/se²; I² = τ²/(τ² + typical se²).
 * Edges: one winter gives its own estimate and nothing else.
 * Source: hartung-knapp-2001; multiplier as in rover-2015; I² higgins-thompson-2002.
 * Checked: tests/reference/pooling-winters (R metafor, BCG vaccine trials).
 * Example: BCG trials, log risk ratio → −0.7145, τ² 0.3132, I² 92.2 %.
 */
export function randomEffects(winters: readonly WinterEstimate[], level: number): RandomEffects {
  insist(winters.length > 0, "randomEffects", "at least one winter", 0);
  insist(level > 0 && level < 1, "randomEffects", "0 < level < 1", level);
  for (const { estimate, se } of winters) {
    insist(Number.isFinite(estimate), "randomEffects", "finite estimates", estimate);
    insist(se > 0 && Number.isFinite(se), "randomEffects", "finite standard errors > 0", se);
  }
  const k = winters.length;
  if (k === 1) {
    const nothing = { se: null, limits: null, p: null, prediction: null, spreadVariance: null };
    const mean = winters[0].estimate;
    return { winters: 1, mean, ...nothing, heterogeneity: null, iSquared: null, reason: "one winter" };
  }
  const df = k - 1;
  const fixed = weightedAt(winters, 0);
  const spreadVariance = restrictedSpread(winters);
  const { mean, precision, scatter } = weightedAt(winters, spreadVariance);
  const se = Math.sqrt(Math.max(1, scatter / df) / precision);
  const t = studentTQuantile((1 + level) / 2, df);
  const reach = t * Math.sqrt(spreadVariance + se * se);
  const squares = winters.reduce((sum, winter) => sum + winter.se ** -4, 0);
  const typical = (df * fixed.precision) / (fixed.precision ** 2 - squares);
  return {
    winters: k,
    mean,
    se,
    limits: { low: mean - t * se, high: mean + t * se },
    p: 2 * studentTCdf(-Math.abs(mean / se), df),
    prediction: { low: mean - reach, high: mean + reach },
    spreadVariance,
    heterogeneity: { q: fixed.scatter, df, p: chiSquareUpper(fixed.scatter, df) },
    iSquared: spreadVariance / (spreadVariance + typical),
    reason: null,
  };
}

function weightedAt(winters: readonly WinterEstimate[], spreadVariance: number) {
  let precision = 0;
  let sum = 0;
  let squares = 0;
  for (const { estimate, se } of winters) {
    const weight = 1 / (se * se + spreadVariance);
    precision += weight;
    sum += weight * estimate;
    squares += weight * weight;
  }
  const mean = sum / precision;
  let scatter = 0;
  let pull = 0;
  for (const { estimate, se } of winters) {
    const weight = 1 / (se * se + spreadVariance);
    scatter += weight * (estimate - mean) ** 2;
    pull += (weight * (estimate - mean)) ** 2;
  }
  // Restricted log likelihood, and twice its slope in τ².
  const height =
    -(
      winters.reduce((total, { se }) => total + Math.log(se * se + spreadVariance), 0) +
      Math.log(precision) +
      scatter
    ) / 2;
  return { mean, precision, scatter, height, slope: pull - precision + squares / precision };
}

/** The τ² ≥ 0 with the highest restricted likelihood: every place where its slope turns down, and 0, are compared. */
function restrictedSpread(winters: readonly WinterEstimate[]): number {
  const slope = (spread: number) => weightedAt(winters, spread).slope;
  const middle = winters.reduce((sum, { estimate }) => sum + estimate, 0) / winters.length;
  const widest = winters.reduce((sum, { estimate, se }) => sum + (estimate - middle) ** 2 + se * se, 0);
  const grid = [0, ...Array.from({ length: 121 }, (_, step) => widest * 10 ** (step / 15 - 8))];
  let best = 0;
  for (let step = 1; step < grid.length; step += 1) {
    if (!(slope(grid[step - 1]) > 0 && slope(grid[step]) <= 0)) continue;
    const peak = rootBetween(slope, grid[step - 1], grid[step]);
    if (weightedAt(winters, peak).height > weightedAt(winters, best).height) best = peak;
  }
  return best;
}
