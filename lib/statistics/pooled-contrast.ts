import type { Estimate } from "./interval";
import { normalCdf, normalQuantile } from "./normal";
import { insist } from "./requirement";
import { rootBySecant } from "./root-by-secant";
import { spreadGrid } from "./spread-grid";

/** What one winter said of a difference or log ratio. */
export interface WinterEstimate {
  estimate: number;
  /** Standard error, > 0. */
  se: number;
}

export interface PooledContrast {
  winters: number;
  /** The mean over winters such as these. */
  mean: Estimate;
  /** What another winter may bring. */
  another: Estimate;
  /** Spread between winters τ: posterior mean; the prior's own with one winter. */
  spread: number;
  /** Probability that the mean, and another winter, come to the floor or above; null without a floor. */
  atLeastFloor: { mean: number; another: number } | null;
}

/**
 * A contrast over several winters: its mean, and what another winter may bring.
 *
 * Each winter's estimate is normal about its own truth, the truths normal about their mean with spread τ. With one
 * winter nothing tells τ but the prior: "one winter; the spread between winters is assumed". For survival itself use
 * `pooledSurvival`.
 *
 * @param winters one estimate each, on a scale where differences add (log ratio, log odds ratio)
 * @param priorScale of the half-normal prior on τ: 1 for log odds, ½ for log ratios; show the answer at another scale too
 * @param floor on the same scale, or null
 * @param level of the (equal-tailed credible) limits
 *
 * Conventions: flat prior on the mean; τ integrated out by quadrature; estimates are posterior means.
 * Edges: no winter at all throws; one is allowed.
 * Source: rover-2021 and friede-2017 (the prior and why); model as in gelman-2006.
 * Checked: tests/reference/pooling-winters (R integrate); by hand as τ's prior shrinks to 0.
 * Example: estimates 0.2 and 0.6, each with standard error 0.2, scale ½ → mean 0.40, another winter −0.75 to 1.55.
 */
export function pooledContrast(
  winters: readonly WinterEstimate[],
  priorScale: number,
  floor: number | null,
  level: number,
): PooledContrast {
  insist(winters.length > 0, "pooledContrast", "at least one winter", 0);
  insist(priorScale > 0 && Number.isFinite(priorScale), "pooledContrast", "priorScale > 0", priorScale);
  insist(level > 0 && level < 1, "pooledContrast", "0 < level < 1", level);
  insist(
    floor === null || Number.isFinite(floor),
    "pooledContrast",
    "a finite floor, or null",
    String(floor),
  );
  for (const { estimate, se } of winters) {
    insist(Number.isFinite(estimate), "pooledContrast", "finite estimates", estimate);
    insist(se > 0 && Number.isFinite(se), "pooledContrast", "finite standard errors > 0", se);
  }
  const { tau, logWeight } = spreadGrid(priorScale, 17);
  const centre = new Float64Array(tau.length);
  const variance = new Float64Array(tau.length);
  const logs = tau.map((spread, at) => {
    let precision = 0;
    let weighted = 0;
    for (const { estimate, se } of winters) {
      const weight = 1 / (se * se + spread * spread);
      precision += weight;
      weighted += weight * estimate;
    }
    centre[at] = weighted / precision;
    variance[at] = 1 / precision;
    let log = logWeight[at] - Math.log(precision) / 2;
    for (const { estimate, se } of winters) {
      const total = se * se + spread * spread;
      log -= Math.log(total) / 2 + (estimate - centre[at]) ** 2 / (2 * total);
    }
    return log;
  });
  const top = logs.reduce((most, log) => Math.max(most, log), Number.NEGATIVE_INFINITY);
  const raw = logs.map((log) => Math.exp(log - top));
  const total = raw.reduce((sum, value) => sum + value, 0);
  const weight = raw.map((value) => value / total);
  const mean = weight.reduce((sum, value, at) => sum + value * centre[at], 0);
  const another = variance.map((value, at) => value + tau[at] ** 2);
  const limits = (variances: Float64Array): Estimate => ({
    estimate: mean,
    low: quantile(weight, centre, variances, (1 - level) / 2),
    high: quantile(weight, centre, variances, (1 + level) / 2),
  });
  return {
    winters: winters.length,
    mean: limits(variance),
    another: limits(another),
    spread: weight.reduce((sum, value, at) => sum + value * tau[at], 0),
    atLeastFloor:
      floor === null
        ? null
        : { mean: above(weight, centre, variance, floor), another: above(weight, centre, another, floor) },
  };
}

function above(weight: Float64Array, centre: Float64Array, variance: Float64Array, floor: number): number {
  let sum = 0;
  for (let at = 0; at < weight.length; at += 1)
    if (weight[at] > 1e-18) sum += weight[at] * normalCdf((centre[at] - floor) / Math.sqrt(variance[at]));
  return Math.min(1, sum);
}

/** The quantile of a mixture of normals: between the outermost of its parts' quantiles. */
function quantile(
  weight: Float64Array,
  centre: Float64Array,
  variance: Float64Array,
  probability: number,
): number {
  const z = normalQuantile(probability);
  // A margin, for where one part holds all the weight and its quantile is an end.
  const margin = 1e-3 * Math.sqrt(variance.reduce((most, value) => Math.max(most, value), 0));
  const own = Array.from(centre, (value, at) => value + z * Math.sqrt(variance[at]));
  const [low, high] = [Math.min(...own) - margin, Math.max(...own) + margin];
  const excess = (at: number) => 1 - probability - above(weight, centre, variance, at);
  return rootBySecant(excess, low, high, 1e-13 * (1 + Math.max(Math.abs(low), Math.abs(high))));
}
