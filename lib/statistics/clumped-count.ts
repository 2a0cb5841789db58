import type { RandomStream } from "./random-stream";
import { insist } from "./requirement";

/**
 * A simulated count of plants standing in one plot whose plants share their fate: a beta-binomial draw.
 *
 * For studies of coverage and power, never for an analysis.
 *
 * @param stream seeded by the caller
 * @param plants whole, ≥ 0
 * @param share expected share standing, 0 to 1
 * @param icc intra-class correlation, 0 ≤ icc < 1; 0 is the plain binomial
 *
 * Source: the plot's own share is Beta(share·s, (1 − share)·s), s = (1 − icc)/icc, from gamma variates by Marsaglia and
 * Tsang (2000), on the log scale because small shapes underflow.
 * Checked: tests/unit/statistics/clumped-count.test.ts (mean and variance of 40,000 draws).
 */
export function clumpedCount(stream: RandomStream, plants: number, share: number, icc: number): number {
  insist(Number.isInteger(plants) && plants >= 0, "clumpedCount", "a whole number of plants", plants);
  insist(
    share >= 0 && share <= 1 && icc >= 0 && icc < 1,
    "clumpedCount",
    "0 ≤ share ≤ 1 and 0 ≤ icc < 1",
    () => `${share}, ${icc}`,
  );
  let own = share;
  if (icc > 0 && share > 0 && share < 1) {
    const size = (1 - icc) / icc;
    const standing = logGammaVariate(stream, share * size);
    const lost = logGammaVariate(stream, (1 - share) * size);
    own = 1 / (1 + Math.exp(lost - standing));
  }
  let count = 0;
  for (let plant = 0; plant < plants; plant += 1) if (stream.uniform() < own) count += 1;
  return count;
}

/** A standard normal draw, by Marsaglia's polar method. */
export function normalVariate(stream: RandomStream): number {
  for (;;) {
    const x = 2 * stream.uniform() - 1;
    const y = 2 * stream.uniform() - 1;
    const square = x * x + y * y;
    if (square > 0 && square < 1) return x * Math.sqrt((-2 * Math.log(square)) / square);
  }
}

/** The log of a gamma draw with this shape and scale 1. */
function logGammaVariate(stream: RandomStream, shape: number): number {
  // A small shape is drawn one higher and multiplied by U^(1/shape).
  if (shape < 1) return logGammaVariate(stream, shape + 1) + Math.log(stream.uniform() + 2 ** -54) / shape;
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = normalVariate(stream);
    const v = (1 + c * x) ** 3;
    if (v <= 0) continue;
    const u = stream.uniform() + 2 ** -54;
    if (Math.log(u) < 0.5 * x * x + d - d * v + d * Math.log(v)) return Math.log(d * v);
  }
}
