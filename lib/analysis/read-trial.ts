import type { Day } from "@/lib/words/day";
import { type PlotStand, plotStands } from "./plot-stand";
import { assessedOn, lastTold, lookDays, type ReadPlot, readPlots } from "./read-plots";
import type { TrialRecord } from "./trial-record";
import { type TrialPicks, trialPicks } from "./yield-plots";

/** A record as the analysis takes it up: what was seen of each plot, on which day it is told, and what was picked. */
export interface TrialReading {
  /** Every plot that is in the reckoning. */
  read: ReadPlot[];
  /** The plots of which somebody told how many stand by the day. */
  seen: ReadPlot[];
  looks: Day[];
  at: Day | null;
  stands: PlotStand[];
  /** The day of the *took* assessment, where it lies before the day told of. */
  tookOn: Day | null;
  picks: TrialPicks;
}

/**
 * Reads a record for one day. A plot left out is as though nobody had seen or picked it; the layout that dealt it stays.
 *
 * @param at the day to tell of; without one, the deciding assessment, or the last day seen where that is still to come
 * @param leavingOut code of a plot to leave out
 */
export function readTrial(record: TrialRecord, at: Day | null, leavingOut: string | null): TrialReading {
  const read = readPlots(record).filter(({ plot }) => plot.code !== leavingOut);
  const looks = lookDays(read);
  const day = at ?? dayToTell(record, read, looks);
  const seen = day === null ? [] : seenPlots(read, looks, day);
  const tookOn = assessedOn(record, "took", looks);
  return {
    read,
    seen,
    looks,
    at: day,
    stands: day === null || seen.length === 0 ? [] : plotStands(seen, day),
    tookOn: day !== null && tookOn !== null && tookOn < day ? tookOn : null,
    picks: trialPicks(record, read, day),
  };
}

/** The deciding assessment's day when somebody has looked since; otherwise the last day of which anything is told. */
function dayToTell(record: TrialRecord, read: ReadPlot[], looks: Day[]): Day | null {
  const deciding = assessedOn(record, record.decidingAssessment, looks);
  const last = lastTold(read);
  return deciding !== null && last !== null && deciding < last ? deciding : last;
}

/**
 * The plots of which somebody told how many stand by a day. When others were counted, a plot that was not is unknown,
 * not all standing; when only losses are noted, a plot without any lost none.
 */
function seenPlots(read: ReadPlot[], looks: Day[], at: Day): ReadPlot[] {
  if (!looks.some((day) => day <= at)) return [];
  const isTold = (one: ReadPlot, kinds: string[]) =>
    one.facts.some((fact) => fact.seenOn <= at && kinds.includes(fact.kind));
  const isCounted = read.some((one) => isTold(one, ["stand"]));
  if (!isCounted) return read;
  return read.filter((one) => isTold(one, ["stand", "loss", "removed", "regrew"]));
}
