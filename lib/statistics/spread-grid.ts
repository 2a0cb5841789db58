import { gaussLegendreRule } from "./gauss-legendre";

/** Points of the spread τ between winters, with what each weighs under its prior. */
export interface SpreadGrid {
  tau: Float64Array;
  /** Log of prior density × quadrature weight. */
  logWeight: Float64Array;
}

/**
 * A grid for integrals over τ under a half-normal prior: Gauss–Legendre panels that halve towards 0, out to where
 * the prior has 1e-14 left.
 *
 * @param scale of the half-normal prior
 * @param halvings more of them where estimates may be so exact that τ lies close to 0
 */
export function spreadGrid(scale: number, halvings: number): SpreadGrid {
  const tau: number[] = [];
  const logWeight: number[] = [];
  const edges = [0, ...Array.from({ length: halvings + 1 }, (_, k) => 8 * scale * 2 ** (k - halvings))];
  for (let panel = 0; panel + 1 < edges.length; panel += 1) {
    const half = (edges[panel + 1] - edges[panel]) / 2;
    for (const { x, weight } of gaussLegendreRule) {
      const at = edges[panel] + half * (1 + x);
      tau.push(at);
      logWeight.push(
        Math.log((half * weight * Math.SQRT2) / (scale * Math.sqrt(Math.PI))) - (at / scale) ** 2 / 2,
      );
    }
  }
  return { tau: Float64Array.from(tau), logWeight: Float64Array.from(logWeight) };
}
