import type { KaplanMeier } from "./kaplan-meier";
import type { CurveLimits } from "./kaplan-meier-limits";
import { insist } from "./requirement";

/** A time with limits; null is *not reached while plants were watched*. */
export interface QuantileOfTime {
  time: number | null;
  low: number | null;
  high: number | null;
}

// Products of shares such as 3/4 × 2/3 miss ½ by rounding; R forgives the square root of the machine's own step.
const forgiven = 1.5e-8;

/**
 * The time by which a share of the plants has been lost: at ½, the median time standing.
 *
 * @param lostShare 0 < lostShare < 1
 * @param limits of the curve; the median's limits are where they cross the same height
 *
 * Conventions: the first time at or below the height; where the curve lies flat exactly at the height, the middle of
 * the flat stretch (to the last time watched, when nothing is lost after it). R's summary table prints the start.
 * Source: brookmeyer-crowley-1982 (limits).
 * Checked: tests/reference/standing-curve (R quantile.survfit).
 */
export function standingQuantile(curve: KaplanMeier, lostShare: number, limits: CurveLimits): QuantileOfTime {
  insist(lostShare > 0 && lostShare < 1, "standingQuantile", "0 < lostShare < 1", lostShare);
  const height = 1 - lostShare;
  return {
    time: crossing(curve.times, curve.share, height),
    low: crossing(curve.times, limits.low, height),
    high: crossing(curve.times, limits.high, height),
  };
}

function crossing(times: Float64Array, heights: ArrayLike<number | null>, height: number): number | null {
  for (let at = 0; at < heights.length; at += 1) {
    const here = heights[at];
    if (here === null || here > height + forgiven) continue;
    if (here < height - forgiven) return times[at];
    let end = at;
    while (end + 1 < heights.length && Math.abs((heights[end] ?? 0) - height) <= forgiven) end += 1;
    return (times[at] + times[end]) / 2;
  }
  return null;
}
