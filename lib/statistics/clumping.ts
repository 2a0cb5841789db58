import { normalCdf, normalDensity, normalQuantile } from "./normal";
import { insist } from "./requirement";

/** What the plots' own scatter says about clumping. */
export interface Dispersion {
  /** Residual mean square over the mean binomial variance: 1 where plants are independent. Null without residual df. */
  f: number | null;
  /** Residual df: plots less the rank of the fit. */
  df: number;
  /** The df that `f` is worth where varieties' variances differ; 0 leaves the prior alone. */
  effectiveDf: number;
  /** Plants per plot at which `f` expects 1 + (plants − 1) × icc. */
  clusterSize: number;
}

/** A distribution of the intra-class correlation on 40 points: the prior, updated by the dispersion seen. */
export interface Clumping {
  icc: readonly number[];
  weight: readonly number[];
  /** The ICC to show: the distribution's mean. */
  mean: number;
}

const angles = Array.from({ length: 40 }, (_, index) => ((index + 0.5) * Math.PI) / 80);
const iccPoints = angles.map((angle) => Math.sin(angle) ** 2);
const logCosines = angles.map((angle) => Math.log(Math.cos(angle)));

/**
 * How much plants of one plot share their fate: the posterior of the intra-class correlation ρ.
 *
 * The prior is Beta(½, priorPower − ½) (for power 2: Beta(½, 3/2), median 0.16), on θ = arcsin √ρ at 40 midpoints. The
 * likelihood takes effectiveDf × F / D as chi-square, with D = 1 + (clusterSize − 1)ρ the design effect.
 *
 * @param dispersion from the plots; `effectiveDf` 0 leaves the prior alone
 * @param priorPower exponent of cos θ in the prior: 2 for varieties in plots, 6 for covers on main plots
 *
 * Source: our own construction (no published interval): dispersion as design effect, a prior on the ICC; the evidence
 * is CALIBRATION.md.
 * Checked: tests/reference/effective-plants (R twin, 11 digits).
 */
export function clumping(dispersion: Dispersion, priorPower: 2 | 6 = 2): Clumping {
  const { f, effectiveDf, clusterSize } = dispersion;
  insist(
    Number.isFinite(effectiveDf) &&
      effectiveDf >= 0 &&
      Number.isFinite(clusterSize) &&
      (f === null || f >= 0),
    "clumping",
    "f ≥ 0, effectiveDf ≥ 0 and a finite clusterSize",
    () => `f ${f}, effectiveDf ${effectiveDf}, clusterSize ${clusterSize}`,
  );
  const logWeight = iccPoints.map((icc, point) => {
    const prior = priorPower * logCosines[point];
    if (f === null || effectiveDf === 0) return prior;
    const designEffect = 1 + (clusterSize - 1) * icc;
    return prior - (effectiveDf / 2) * (Math.log(designEffect) + f / designEffect);
  });
  const top = Math.max(...logWeight);
  const raw = logWeight.map((value) => Math.exp(value - top));
  const total = raw.reduce((sum, value) => sum + value, 0);
  const weight = raw.map((value) => value / total);
  return {
    icc: iccPoints,
    weight,
    mean: weight.reduce((sum, value, point) => sum + value * iccPoints[point], 0),
  };
}

/**
 * The multiplier k that stands in for the normal quantile when ρ is known only up to its distribution: the k with
 * Σ weight × Φ(−k/√(1 + (clusterSize − 1)ρ)) = tail. With ρ = 0, or one plant a plot, it is the normal quantile itself.
 *
 * @param clusterSize plants per plot of this variety, Σ n²/Σ n ≥ 1
 * @param tail probability beyond each limit, e.g. 0.025
 */
export function clumpedQuantile(belief: Clumping, clusterSize: number, tail: number): number {
  insist(clusterSize >= 1 - 1e-12, "clumpedQuantile", "clusterSize ≥ 1", clusterSize);
  insist(tail > 0 && tail < 0.5, "clumpedQuantile", "0 < tail < ½", tail);
  const spreads = belief.icc.map((icc) => Math.sqrt(1 + Math.max(0, clusterSize - 1) * icc));
  // The tail is convex and falling in k, and every spread is at least 1: Newton from z climbs and cannot overshoot.
  let k = -normalQuantile(tail);
  for (let step = 0; step < 60; step += 1) {
    let excess = -tail;
    let slope = 0;
    for (let point = 0; point < spreads.length; point += 1) {
      const z = k / spreads[point];
      excess += belief.weight[point] * normalCdf(-z);
      slope += (belief.weight[point] * normalDensity(z)) / spreads[point];
    }
    const climb = excess / slope;
    if (!(climb > 1e-15 * k)) break;
    k += climb;
  }
  return k;
}
