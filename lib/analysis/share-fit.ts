import { type Clumping, clumping, type Dispersion } from "@/lib/statistics/clumping";
import { effectivePlants } from "@/lib/statistics/effective-plants";
import type { PlotCount } from "@/lib/statistics/plot-count";
import { standingLimits } from "@/lib/statistics/standing-limits";
import { type Day, daysBetween } from "@/lib/words/day";
import { firstDay, followedPlot } from "./followed-plot";
import { plotCount, survivalLayout } from "./layout";
import type { PlotStand } from "./plot-stand";
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
}

/** Shares with limits; where plants were taken out whole, from the plots' curves, which know until when they stood. */
export function fitShares(request: ShareRequest, comparisons: number): ShareFit {
  const { record, stands, asOf, level } = request;
  const layout = survivalLayout(record);
  const counts = stands.map((stand) => countOf(record, stand));
  const plain = effectivePlants(counts, layout, level, comparisons);
  if (stands.every((stand) => stand.takenOut === 0))
    return {
      level: plain.level,
      dispersion: plain.dispersion,
      clumping: plain.clumping,
      shares: plain.varieties.map((share) => ({ ...share, known: knownPlants(counts, share.variety) })),
    };
  const from = request.from ?? firstDay(stands) ?? asOf;
  const followed = stands.map((stand) => followedPlot(record, stand, from, asOf));
  const curves = standingLimits(followed, layout, [daysBetween(from, asOf)], level, comparisons);
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

/** Plants taken out are neither standing nor lost: they leave the count of those that had to stand. */
export function countOf(record: TrialRecord, stand: PlotStand): PlotCount {
  return plotCount(stand.plot, record.design, {
    setOut: stand.setOut - stand.takenOut,
    standing: stand.standing,
  });
}

function knownPlants(counts: PlotCount[], variety: string): Share["known"] {
  const own = counts.filter((count) => count.variety === variety && count.setOut > 0);
  const plants = own.reduce((sum, count) => sum + count.setOut, 0);
  const squares = own.reduce((sum, count) => sum + count.setOut ** 2, 0);
  return plants === 0 ? null : { plants, clusterSize: squares / plants };
}
