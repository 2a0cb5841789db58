import type { Day } from "@/lib/words/day";
import type { Observation } from "@/lib/words/observation";
import { firstFlowerStem } from "@/lib/words/trait";
import type { YieldPer } from "./finding";
import { type PlotStand, plotStands } from "./plot-stand";
import type { ReadPlot } from "./read-plots";
import type { RecordPlot, TrialRecord } from "./trial-record";

/** What one plot gave on the trial picks within its window. */
export interface PlotYield {
  plot: RecordPlot;
  /** Grams over all trial picks; null when some pick of this plot is missing. */
  totalG: number | null;
  /** Trial picks that this plot missed though something stood there. */
  missedOn: Day[];
  /** Grams on each trial pick; 0 where there was nothing to pick. */
  picks: { day: Day; grams: number }[];
  /** Heads or stems counted over the window; null when pieces were not counted. */
  pieces: number | null;
  /** The last day that counts for this plot: clear-by, bolting or the end, whichever came first. */
  windowEnd: Day | null;
}

export interface TrialPicks {
  /** Days on which every plot was asked for. */
  days: Day[];
  plots: PlotYield[];
  /** Days on which only some plots were picked: for the kitchen, not for the comparison. */
  leftOut: { day: Day; plots: number }[];
}

/**
 * The harvests that may be compared: days on which every plot was asked for by one rule. A day belongs to them when
 * more than half of the plots carry a harvest (a weight, nought, or *not picked*); other days were picked for the
 * kitchen and are left out for all.
 *
 * A plot where nothing stands any more, or whose window has ended (clear-by, bolting, end), gives 0 g: wiped out is
 * nought, not missing. A plot that still stood and was not picked is missing on that day, and with it its total. The
 * plot has bolted when at least half of its standing plants show a flower stem (the convention by which a stand is said
 * to be at a growth stage: Meier 2001, BBCH).
 *
 * @param until harvests after this day are not told of
 */
export function trialPicks(record: TrialRecord, plots: ReadPlot[], until: Day | null): TrialPicks {
  const inTime = (fact: Observation) => until === null || fact.seenOn <= until;
  const harvests = plots.map((read) => {
    const all = read.facts.filter((fact) => fact.kind === "harvest" && inTime(fact));
    return {
      read,
      weights: all.filter((fact) => fact.unit === "g"),
      counts: all.filter((fact) => fact.unit === "count"),
    };
  });
  const perDay = new Map<Day, number>();
  for (const { weights } of harvests)
    for (const day of new Set(weights.map((fact) => fact.seenOn)))
      perDay.set(day, (perDay.get(day) ?? 0) + 1);
  const inWindow = [...perDay].filter(([day]) => record.clearBy === null || day <= record.clearBy);
  const days = inWindow
    .filter(([, asked]) => asked * 2 > plots.length)
    .map(([day]) => day)
    .sort();
  const leftOut = [...perDay]
    .filter(([day]) => !days.includes(day))
    .map(([day, count]) => ({ day, plots: count }))
    .sort((a, b) => (a.day < b.day ? -1 : 1));
  return {
    days,
    leftOut,
    plots: harvests.map(({ read, weights, counts }) => plotYield(record, read, weights, counts, days)),
  };
}

function plotYield(
  record: TrialRecord,
  read: ReadPlot,
  weights: Observation[],
  counts: Observation[],
  days: Day[],
): PlotYield {
  const windowEnd = endOfWindow(record, read);
  const missedOn: Day[] = [];
  const picks = days.map((day) => {
    const own = weights.filter((fact) => fact.seenOn === day);
    const weighed = own.flatMap((fact) => (fact.amount === null ? [] : [fact.amount]));
    const isOver = windowEnd !== null && day > windowEnd;
    if (isOver) return { day, grams: 0 };
    if (read.outFrom !== null && read.outFrom <= day) missedOn.push(day);
    else if (weighed.length === 0 && stillStands(read, day)) missedOn.push(day);
    return { day, grams: weighed.reduce((sum, grams) => sum + grams, 0) };
  });
  const pieces = counts.filter((fact) => windowEnd === null || fact.seenOn <= windowEnd);
  return {
    plot: read.plot,
    totalG:
      missedOn.length > 0 || days.length === 0 ? null : picks.reduce((sum, pick) => sum + pick.grams, 0),
    missedOn,
    picks: picks.filter((pick) => !missedOn.includes(pick.day)),
    pieces: pieces.length === 0 ? null : pieces.reduce((sum, fact) => sum + (fact.amount ?? 0), 0),
    windowEnd,
  };
}

/** Whether anything was left to pick on a day, before that day's own cutting; unknown plants count as standing. */
function stillStands(read: ReadPlot, day: Day): boolean {
  if (read.plot.plants === null) return true;
  const earlier = { ...read, facts: read.facts.filter((fact) => fact.seenOn < day), outFrom: null };
  const [before] = plotStands([earlier], day);
  const [after] = plotStands([{ ...read, outFrom: null }], day);
  const cutThatDay = after.takenOut > before.takenOut;
  return after.standing + after.fillingsStanding > 0 || cutThatDay;
}

function endOfWindow(record: TrialRecord, read: ReadPlot): Day | null {
  const ended = read.facts.find((fact) => fact.kind === "ended")?.seenOn ?? null;
  const ends = [record.clearBy, boltedOn(read), ended].filter((day) => day !== null);
  return ends.sort()[0] ?? null;
}

/** The first day on which at least half of a plot's standing plants showed a flower stem; null when none did. */
export function boltedOn(read: ReadPlot): Day | null {
  const stems = read.facts.filter(
    (fact) => fact.kind === "count" && fact.trait === firstFlowerStem && (fact.amount ?? 0) > 0,
  );
  for (const fact of stems) {
    const standing = plotStands([read], fact.seenOn)[0]?.standing ?? 0;
    if (standing > 0 && (fact.amount as number) * 2 >= standing) return fact.seenOn;
  }
  return null;
}

/** A plot's yield on the scale asked for; null where it is missing or there is nothing to divide by. */
export function responseOf(own: PlotYield, per: YieldPer, stand: PlotStand | undefined): number | null {
  if (own.totalG === null) return null;
  switch (per) {
    case "plot":
      return own.totalG;
    case "plant":
      return own.plot.plants === null ? null : own.totalG / own.plot.plants;
    case "m2":
      return own.plot.areaM2 === null ? null : own.totalG / own.plot.areaM2;
    case "standing":
      return stand && stand.standing > 0 ? own.totalG / stand.standing : null;
  }
}

export const yieldScales: Record<YieldPer, string> = {
  plant: "g per plant set out",
  m2: "g per square metre",
  standing: "g per plant standing",
  plot: "g per plot",
};
