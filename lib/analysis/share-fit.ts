import { type Clumping, clumping, type Dispersion } from "@/lib/statistics/clumping";
import { effectiveMainPlots } from "@/lib/statistics/effective-main-plots";
import { effectivePlants } from "@/lib/statistics/effective-plants";
import { effectiveShares, groupTotals } from "@/lib/statistics/effective-shares";
import type { Estimate } from "@/lib/statistics/interval";
import { lookSeeBed } from "@/lib/statistics/look-see-bed";
import type { PlotCount } from "@/lib/statistics/plot-count";
import { standingLimits } from "@/lib/statistics/standing-limits";
import { type Day, daysBetween } from "@/lib/words/day";
import { firstDay, followedPlot } from "./followed-plot";
import { isLookSee, isVarietyOnMainPlots, repeatedVariety, survivalLayout } from "./layout";
import type { PlotStand } from "./plot-stand";
import { cellCounts, countOf, mainPlotCounts } from "./stand-counts";
import type { TrialRecord } from "./trial-record";

export interface ShareRequest {
  record: TrialRecord;
  stands: PlotStand[];
  /** Day from which plants are followed: planting where null, or the day on which they had taken. */
  from: Day | null;
  asOf: Day;
  level: number;
}

/** One variety's share standing with its limits. */
export interface Share {
  variety: string;
  share: number | null;
  low: number | null;
  high: number | null;
  effectivePlants: number | null;
  multiplier: number | null;
  /** What the share weighs: plants whose fate is known, and Σ n²/Σ n over their plots; null without any. */
  known: { plants: number; clusterSize: number } | null;
}

/** Shares of all varieties, and what they rest on. */
export interface ShareFit {
  level: number;
  dispersion: Dispersion;
  clumping: Clumping;
  shares: Share[];
  /** In a look-see bed: each entry less the checks nearest to it. */
  nearest?: Map<string, Estimate | null>;
}

/** Shares with limits; where plants were taken out whole, from the plots' curves, which know until when they stood. */
export function fitShares(request: ShareRequest, comparisons: number): ShareFit {
  const { record, stands, level } = request;
  const counts = stands.map((stand) => countOf(record, stand));
  const isWhole = stands.every((stand) => stand.takenOut === 0);
  if (!isWhole) return fitCurves(request, counts, comparisons);
  if (record.design === "split-plot") return fitWithinMainPlots(request, counts, comparisons);
  if (isLookSee(record)) return fitLookSee(request, counts);
  const fit = effectivePlants(counts, survivalLayout(record), level, comparisons);
  return {
    ...fit,
    shares: fit.varieties.map((share) => ({ ...share, known: knownPlants(counts, share.variety) })),
  };
}

function fitCurves(request: ShareRequest, counts: PlotCount[], comparisons: number): ShareFit {
  const { record, stands, asOf, level } = request;
  const from = request.from ?? firstDay(stands) ?? asOf;
  const followed = stands.map((stand) => followedPlot(record, stand, from, asOf));
  const days = [daysBetween(from, asOf)];
  const curves = standingLimits(followed, survivalLayout(record), days, level, comparisons);
  return {
    level: curves.level,
    dispersion: curves.dispersions[0],
    clumping: clumping(curves.dispersions[0]),
    shares: curves.varieties.map(({ variety, steps: [step] }) => ({
      variety,
      share: step.share,
      low: step.low,
      high: step.high,
      effectivePlants: step.effectivePlants,
      multiplier: null,
      known: knownPlants(counts, variety),
    })),
  };
}

/**
 * Varieties within main plots: the clumping is judged on main plot and variety under each treatment, and a variety's
 * share is over all treatments. Where whole main plots were dealt the varieties, main plots are the clusters.
 */
function fitWithinMainPlots(request: ShareRequest, counts: PlotCount[], comparisons: number): ShareFit {
  const { record, stands, level } = request;
  if (isVarietyOnMainPlots(record)) {
    const fit = effectiveMainPlots(mainPlotCounts(record, stands, "variety"), level, comparisons);
    return {
      ...fit,
      shares: fit.treatments.map(({ treatment: variety, ...share }) => ({
        ...share,
        variety,
        known: knownPlants(counts, variety),
      })),
    };
  }
  const cells = effectivePlants(cellCounts(record, stands), "rcbd", level, comparisons);
  const totals = groupTotals(counts, (count) => count.variety);
  const { level: each, shares } = effectiveShares(totals, cells.clumping, level, comparisons);
  return {
    level: each,
    dispersion: cells.dispersion,
    clumping: cells.clumping,
    shares: shares.map(({ group: variety, ...share }) => ({
      ...share,
      variety,
      known: knownPlants(counts, variety),
    })),
  };
}

/** A bed of entries that stand once: the clumping is judged on the repeated check alone. */
function fitLookSee(request: ShareRequest, counts: PlotCount[]): ShareFit {
  const { record, stands, level } = request;
  const check = repeatedVariety(record);
  const bed = lookSeeBed(
    stands.map((stand, place) => ({
      plot: stand.plot.code,
      variety: stand.plot.variety,
      isCheck: stand.plot.variety === check,
      x: stand.plot.column ?? place,
      y: stand.plot.row ?? 0,
      setOut: counts[place].setOut,
      standing: counts[place].standing,
    })),
    level,
  );
  const ofCheck = groupTotals(
    counts.filter((count) => count.variety === check),
    (count) => count.variety,
  );
  const checkShares = effectiveShares(ofCheck, bed.clumping, level, 1).shares;
  const shares = [
    ...bed.entries,
    ...checkShares.map(({ group, ...share }) => ({ ...share, variety: group })),
  ];
  return {
    level,
    dispersion: bed.dispersion,
    clumping: bed.clumping,
    shares: shares.map((share) => ({ ...share, known: knownPlants(counts, share.variety) })),
    nearest: new Map(bed.entries.map(({ variety, difference }) => [variety, difference])),
  };
}

function knownPlants(counts: PlotCount[], variety: string): Share["known"] {
  const own = counts.filter((count) => count.variety === variety && count.setOut > 0);
  const plants = own.reduce((sum, count) => sum + count.setOut, 0);
  const squares = own.reduce((sum, count) => sum + count.setOut ** 2, 0);
  return plants === 0 ? null : { plants, clusterSize: squares / plants };
}
