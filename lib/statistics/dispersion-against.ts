import type { Dispersion } from "./clumping";
import type { WeightedResidual } from "./weighted-residual";

/**
 * The residual mean square of plots set against the mean binomial variance of their groups. The df are cut where the
 * groups' variances differ, since then a few groups make most of the scatter (Satterthwaite's rule).
 */
export function dispersionAgainst(residual: WeightedResidual, variances: readonly number[]): Dispersion {
  const { df, meanSquare, meanWeight } = residual;
  if (df === 0) return { f: null, df, effectiveDf: 0, clusterSize: 1 };
  const sum = variances.reduce((total, variance) => total + variance, 0);
  const squares = variances.reduce((total, variance) => total + variance ** 2, 0);
  return {
    f: meanSquare / (sum / variances.length),
    df,
    effectiveDf: (df * sum ** 2) / (variances.length * squares),
    clusterSize: meanWeight,
  };
}

/** p(1 − p) at p = (x + ½)/(n + 1), which stays above 0 where none or all stand. */
export function binomialVariance(standing: number, setOut: number): number {
  const share = (standing + 0.5) / (setOut + 1);
  return share * (1 - share);
}
