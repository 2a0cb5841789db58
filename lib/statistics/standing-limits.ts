import type { Dispersion } from "./clumping";
import { effectivePlants } from "./effective-plants";
import { type KaplanMeier, kaplanMeier, type Standing, standingAt } from "./kaplan-meier";
import type { Lifetimes } from "./lifetimes";
import { normalQuantile } from "./normal";
import type { Layout, PlotCount } from "./plot-count";
import { insist } from "./requirement";
import { wilsonInterval } from "./wilson-interval";

/** One plot's plants, each with the day on which it was lost or last seen standing. */
export interface FollowedPlot extends Lifetimes {
  variety: string;
  /** Needed by `rcbd`; null otherwise. */
  block: string | null;
  /** Needed by `latin`; null otherwise. */
  row: number | null;
  column: number | null;
}

export interface StandingStep {
  time: number;
  /** Plants seen standing at that time. */
  followed: number;
  lostSoFar: number;
  /** Null, as are limits and effective plants, where nobody watched that long. */
  share: number | null;
  low: number | null;
  high: number | null;
  effectivePlants: number | null;
}

export interface StandingOfVariety {
  variety: string;
  curve: KaplanMeier;
  /** In the order of the times asked for. */
  steps: StandingStep[];
}

export interface StandingLimits {
  /** Level of each interval: 1 − (1 − the level asked for)/comparisons. */
  level: number;
  /** In the order in which varieties first appear among the plots. */
  varieties: StandingOfVariety[];
  /** What the plots' scatter says at each time. */
  dispersions: Dispersion[];
}

/**
 * The share standing at each of several times with limits that know that plants of one plot share their fate: section
 * for section what `effectivePlants` does at one date, for plants that may have been taken out whole before.
 *
 * At each time the plots' own curves give the dispersion and with it the multiplier k; the variety's curve gives the
 * plants that Greenwood's variance is worth, S(1 − S)/variance; Wilson's interval stands at (z/k)² of them.
 *
 * @param plots plots with their plants; a plot without plants, or of which nobody knows at a time, counts for nothing
 * @param layout terms fitted beside variety
 * @param times ascending or not; typically the walkabouts
 * @param level confidence level at each time by itself
 * @param comparisons how many intervals share the error: 1, or varieties − 1 for a family against the check
 *
 * Conventions: a plot weighs with the plants whose fate is known at the time: followed to it, or lost by it.
 * Edges: S 0 or 1 has no Greenwood variance: the plants whose fate is known take its place, and the interval has width.
 * Without censoring the limits are those of `effectivePlants`.
 * Source: our own construction; kaplan-meier-1958, greenwood-1926, wilson-1927. Its evidence is CALIBRATION.md.
 * Checked: tests/unit/statistics/standing-limits.test.ts (against effectivePlants; by hand with censoring).
 */
export function standingLimits(
  plots: readonly FollowedPlot[],
  layout: Layout,
  times: readonly number[],
  level: number,
  comparisons = 1,
): StandingLimits {
  insist(times.every(Number.isFinite), "standingLimits", "finite times", times.join(", "));
  insist(level > 0 && level < 1, "standingLimits", "0 < level < 1", level);
  const plotCurves = plots.map(kaplanMeier);
  const varieties = [...new Set(plots.map((plot) => plot.variety))].map((variety): StandingOfVariety => {
    const own = plots.filter((plot) => plot.variety === variety);
    const pooled = {
      times: own.flatMap((plot) => Array.from(plot.times)),
      causes: own.flatMap((plot) => Array.from(plot.causes)),
    };
    return { variety, curve: kaplanMeier(pooled), steps: [] };
  });
  const tail = (1 - level) / comparisons / 2;
  const z = -normalQuantile(tail);
  const dispersions = times.map((time) => {
    const counts = plots.map((plot, index) => countAt(plot, plotCurves[index], time));
    const { dispersion, varieties: shares } = effectivePlants(counts, layout, level, comparisons);
    for (const { variety, curve, steps } of varieties) {
      const multiplier = shares.find((share) => share.variety === variety)?.multiplier ?? null;
      steps.push(stepAt(curve, time, multiplier === null ? null : (z / multiplier) ** 2, 1 - 2 * tail));
    }
    return dispersion;
  });
  return { level: 1 - 2 * tail, varieties, dispersions };
}

const knownPlants = ({ followed, lostSoFar }: Standing) => followed + lostSoFar;

const isUnknown = ({ share, followed }: Standing) => followed === 0 && share > 0;

function countAt(plot: FollowedPlot, curve: KaplanMeier, time: number): PlotCount {
  const { variety, block, row, column } = plot;
  const standing = standingAt(curve, time);
  const setOut = isUnknown(standing) ? 0 : knownPlants(standing);
  return { variety, block, row, column, setOut, standing: setOut * standing.share };
}

function stepAt(curve: KaplanMeier, time: number, told: number | null, level: number): StandingStep {
  const standing = standingAt(curve, time);
  const { followed, lostSoFar, share, variance } = standing;
  if (told === null || isUnknown(standing)) {
    const unknown = { share: null, low: null, high: null, effectivePlants: null };
    return { time, followed, lostSoFar, ...unknown };
  }
  const worth = variance > 0 ? (share * (1 - share)) / variance : knownPlants(standing);
  const effective = worth * told;
  const limits = wilsonInterval(share * effective, effective, level);
  return { time, followed, lostSoFar, share, ...limits, effectivePlants: effective };
}
