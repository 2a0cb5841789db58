import { gaussHermite } from "./gauss-hermite";
import { interceptMode } from "./intercept-mode";
import type { Estimate } from "./interval";
import { normalCdf } from "./normal";
import { insist } from "./requirement";
import { rootBySecant } from "./root-by-secant";
import { spreadGrid } from "./spread-grid";

/** What one winter said of a variety's survival, in effective plants; neither number need be whole. */
export interface WinterCount {
  standing: number;
  /** > 0 */
  effectivePlants: number;
}

export interface PooledSurvival {
  winters: number;
  /** Share standing in the middle winter of winters such as these. */
  typical: Estimate;
  /** Share standing in another winter. */
  another: Estimate;
  /** Spread τ between winters on the logit scale: posterior mean. */
  spread: number;
  /** Probability that the typical winter, and another, come to the floor or above; null without a floor. */
  atLeastFloor: { typical: number; another: number } | null;
}

/**
 * A variety's survival over several winters, and in another: each winter's effective plants stand with a chance of their
 * own, whose logits are normal about their mean with spread τ.
 *
 * With one winter the spread is assumed, and that is to be said. Works where none or all stood, as empirical logits do
 * not.
 *
 * @param winters one each: share standing × effective plants, of effective plants
 * @param priorScale of the half-normal prior on τ, 1 by rule; show the answer at another scale too
 * @param floor a share, or null
 * @param level of the (equal-tailed credible) limits
 *
 * Conventions: mean logit ~ normal(0, 2.5²); estimates are posterior medians; integrals on a grid (spread by Gauss–Legendre,
 * each winter by adaptive Gauss–Hermite, mean logit by evenly spaced points), good to 1e-6.
 * Source: binomial–normal model as in gelman-2006; priors rover-2021, friede-2017, gelman-2008 (scale of the mean).
 * Checked: tests/reference/pooling-winters (R, by panels and the trapezium rule).
 * Example: 12.5 of 16 and 6 of 14 effective plants, floor ½ → typical 0.61, another winter at least ½ with 0.69.
 */
export function pooledSurvival(
  winters: readonly WinterCount[],
  priorScale: number,
  floor: number | null,
  level: number,
): PooledSurvival {
  insist(winters.length > 0, "pooledSurvival", "at least one winter", 0);
  insist(priorScale > 0 && Number.isFinite(priorScale), "pooledSurvival", "priorScale > 0", priorScale);
  insist(level > 0 && level < 1, "pooledSurvival", "0 < level < 1", level);
  insist(
    floor === null || (floor > 0 && floor < 1),
    "pooledSurvival",
    "a floor between 0 and 1, or null",
    String(floor),
  );
  for (const { standing, effectivePlants } of winters)
    insist(
      standing >= 0 && standing <= effectivePlants && effectivePlants > 0 && Number.isFinite(effectivePlants),
      "pooledSurvival",
      "0 ≤ standing ≤ effectivePlants",
      `${standing} of ${effectivePlants}`,
    );
  const { tau, logWeight } = spreadGrid(priorScale, 3);
  const logs: LogSlice[] = [];
  for (const [at, spread] of tau.entries())
    logs.push(meanGivenSpread(winters, spread, logWeight[at], logs[at - 1] ?? null));
  const top = logs.reduce((most, { peak }) => Math.max(most, peak), Number.NEGATIVE_INFINITY);
  const slices = logs.map((one, at) => slice(one, tau[at], top));
  const total = slices.reduce((sum, { mass }) => sum + mass, 0);
  const typicalBelow = (logit: number) => slices.reduce((sum, one) => sum + meanBelow(one, logit), 0) / total;
  const anotherBelow = (logit: number) =>
    slices.reduce((sum, one) => sum + anotherWinterBelow(one, logit), 0) / total;
  const low = Math.min(...slices.map((one) => one.first - 8 * one.spread));
  const high = Math.max(...slices.map((one) => one.last + 8 * one.spread));
  const quantiles = (distribution: (logit: number) => number): Estimate => {
    const at = (probability: number) =>
      share(rootBySecant((logit) => distribution(logit) - probability, low, high, 1e-9));
    return { low: at((1 - level) / 2), estimate: at(0.5), high: at((1 + level) / 2) };
  };
  const height = floor === null ? 0 : Math.log(floor / (1 - floor));
  return {
    winters: winters.length,
    typical: quantiles(typicalBelow),
    another: quantiles(anotherBelow),
    spread: slices.reduce((sum, { spread, mass }) => sum + spread * mass, 0) / total,
    atLeastFloor:
      floor === null ? null : { typical: 1 - typicalBelow(height), another: 1 - anotherBelow(height) },
  };
}

const priorMeanSd = 2.5;
const quadrature = gaussHermite(32);
const share = (logit: number) => 1 / (1 + Math.exp(-logit));
const softPlus = (value: number) => Math.max(0, value) + Math.log1p(Math.exp(-Math.abs(value)));

/** Log of the chance of a winter's count (up to its binomial coefficient) given mean logit and spread. */
function logChance({ standing, effectivePlants }: WinterCount, mean: number, spread: number): number {
  // Adaptive quadrature about the mode, each term over the mode's own.
  const { mode, width } = interceptMode([mean], [standing], [effectivePlants], spread);
  const centre = mean + spread * mode;
  const top = standing * centre - effectivePlants * softPlus(centre) - (mode * mode) / 2;
  let sum = 0;
  for (let q = 0; q < quadrature.nodes.length; q += 1) {
    const node = quadrature.nodes[q];
    const z = mode + width * node;
    const logit = mean + spread * z;
    const log = standing * logit - effectivePlants * softPlus(logit) + (node * node - z * z) / 2;
    sum += quadrature.weights[q] * Math.exp(log - top);
  }
  return top + Math.log(width * sum);
}

const points = 161;

interface LogSlice {
  means: Float64Array;
  logs: Float64Array;
  centre: number;
  peak: number;
}

/**
 * Log posterior of the mean at one spread, evenly spaced over where it is within e⁻²⁸ of its peak. The slice at the last
 * spread tells where to look.
 */
function meanGivenSpread(
  winters: readonly WinterCount[],
  spread: number,
  logWeight: number,
  last: LogSlice | null,
): LogSlice {
  const log = (mean: number) =>
    winters.reduce(
      (sum, winter) => sum + logChance(winter, mean, spread),
      logWeight - mean ** 2 / (2 * priorMeanSd ** 2),
    );
  // The posterior has one peak: climb to it by steps that halve on turning back.
  let centre = last?.centre ?? 0;
  let peak = log(centre);
  for (let step = last ? 0.2 : 2; step > 0.04; ) {
    const right = log(centre + step);
    const left = log(centre - step);
    if (right <= peak && left <= peak) step /= 2;
    else {
      centre += right > left ? step : -step;
      peak = Math.max(right, left);
    }
  }
  const edge = (side: -1 | 1, before: number | undefined) => {
    let step = before === undefined ? 0.1 : 0.8 * Math.abs(before - centre);
    while (log(centre + side * step) > peak - 28) step *= 1.2;
    return centre + side * step;
  };
  const from = edge(-1, last?.means[0]);
  const to = edge(1, last?.means[points - 1]);
  const means = Float64Array.from({ length: points }, (_, k) => from + (k * (to - from)) / (points - 1));
  return { means, logs: means.map(log), centre, peak };
}

/** The posterior of the mean at one spread, with its running integral. */
interface Slice {
  spread: number;
  first: number;
  last: number;
  step: number;
  density: Float64Array;
  slope: Float64Array;
  below: Float64Array;
  mass: number;
}

function slice({ means, logs }: LogSlice, spread: number, top: number): Slice {
  const step = means[1] - means[0];
  const density = logs.map((log) => Math.exp(log - top));
  const at = (k: number) => density[k] ?? 0;
  const slope = density.map((_, k) => (8 * (at(k + 1) - at(k - 1)) - at(k + 2) + at(k - 2)) / (12 * step));
  const below = cumulative(density, step);
  const [first, last, mass] = [means[0], means[points - 1], below[points - 1]];
  return { spread, first, last, step, density, slope, below, mass };
}

/** Running integral of evenly spaced values, each step by the quintic through the six points about it. */
function cumulative(values: Float64Array, step: number): Float64Array {
  const at = (k: number) => values[k] ?? 0;
  const sum = new Float64Array(values.length);
  for (let k = 0; k + 1 < values.length; k += 1)
    sum[k + 1] =
      sum[k] +
      (step / 1440) *
        (802 * (at(k) + at(k + 1)) - 93 * (at(k - 1) + at(k + 2)) + 11 * (at(k - 2) + at(k + 3)));
  return sum;
}

/** Mass of the mean below a logit: between grid points by the quintic through its values, slopes and bends there. */
function meanBelow({ first, step, below, density, slope, mass }: Slice, logit: number): number {
  const place = (logit - first) / step;
  if (place <= 0) return 0;
  const k = Math.floor(place);
  if (k + 1 >= points) return mass;
  const t = place - k;
  const cube = t * t * t;
  const rise = cube * (10 + t * (6 * t - 15));
  return (
    below[k] +
    rise * (below[k + 1] - below[k]) +
    step * (t - cube * (6 + t * (3 * t - 8))) * density[k] -
    step * cube * (4 + t * (3 * t - 7)) * density[k + 1] +
    (step * step * (t * t - cube * (3 + t * (t - 3))) * slope[k]) / 2 +
    (step * step * cube * (1 + t * (t - 2)) * slope[k + 1]) / 2
  );
}

/**
 * Mass of mean + τ z below a logit. Where τ is narrow beside the grid, by points of z over the mean's smooth
 * distribution function; where it is wide, by points of the mean over z's.
 */
function anotherWinterBelow(one: Slice, logit: number): number {
  const { spread, first, step, density } = one;
  let sum = 0;
  if (spread < 6 * step) {
    for (let q = 0; q < quadrature.nodes.length; q += 1)
      sum += quadrature.weights[q] * meanBelow(one, logit - spread * quadrature.nodes[q]);
    return sum;
  }
  for (let k = 0; k < points; k += 1) {
    const z = (logit - first - k * step) / spread;
    if (z > 8.5) sum += density[k];
    else if (z > -8.5) sum += density[k] * normalCdf(z);
  }
  return step * sum;
}
