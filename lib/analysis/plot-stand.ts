import type { CohortStand } from "@/lib/journal/fold-cohort";
import { standAt } from "@/lib/journal/stand-at";
import type { Day } from "@/lib/words/day";
import type { ReadPlot } from "./read-plots";
import type { RecordPlot } from "./trial-record";

/** Plants that left the reckoning on a day: lost to a cause, or taken out. */
export interface Departure {
  plants: number;
  seenOn: Day;
  /** The last day on which they were known to stand; null when unknown. */
  standingOn: Day | null;
  cause: string;
}

/** How a plot's planting stood on a day. Fillings after *took* are cohorts of their own and never in these figures. */
export interface PlotStand {
  plot: RecordPlot;
  /** Plants that had to stand: set out, and put in to complete the plot. */
  setOut: number;
  standing: number;
  lost: number;
  losses: Departure[];
  /** Taken out by a person, or with the whole plot by an amendment: neither standing nor lost. */
  takenOut: number;
  removals: Departure[];
  unsettled: number;
  doubtful: number;
  lastSeenOn: Day | null;
  notSeenSince: boolean;
  /** Plants in later fillings that stand on the day. */
  fillingsStanding: number;
  endedOn: Day | null;
}

/**
 * How each plot stood on a day. A plot that an amendment took out before it keeps its losses until then; what stood
 * then is taken out. A plot of which nobody said how many plants were set out is left out.
 */
export function plotStands(plots: ReadPlot[], day: Day | null): PlotStand[] {
  return plots.flatMap((read) => (read.plot.plants === null ? [] : [plotStand(read, read.plot.plants, day)]));
}

function plotStand(read: ReadPlot, plants: number, day: Day | null): PlotStand {
  const { plot, facts, outFrom } = read;
  const isOut = outFrom !== null && (day === null || outFrom <= day);
  const told = isOut ? facts.filter((fact) => fact.seenOn < outFrom) : facts;
  const stand = standAt({ id: plot.id, plants, plantedOn: plot.plantedOn }, told, day);
  const removals = stand.removals.map(({ reason, ...rest }) => ({
    ...rest,
    standingOn: null,
    cause: reason,
  }));
  if (isOut && stand.standing > 0)
    removals.push({ plants: stand.standing, seenOn: outFrom, standingOn: null, cause: "left the trial" });
  return {
    plot,
    setOut: stand.setOut + stand.added,
    standing: isOut ? 0 : stand.standing,
    lost: stand.lost,
    losses: stand.losses,
    takenOut: stand.removed + (isOut ? stand.standing : 0),
    removals,
    unsettled: stand.unsettled,
    doubtful: stand.doubtful,
    lastSeenOn: stand.lastSeenOn,
    notSeenSince: wasNotSeenSince(stand),
    fillingsStanding: stand.fillings.reduce((sum, filling) => sum + filling.standing, 0),
    endedOn: stand.endedOn,
  };
}

function wasNotSeenSince(stand: CohortStand): boolean {
  const lastMissed = stand.notSeenOn.at(-1);
  return lastMissed !== undefined && (stand.lastSeenOn === null || lastMissed > stand.lastSeenOn);
}

/** What became, up to a later day, of the plants that stood on an earlier one. */
export function sinceDay(stand: PlotStand, earlier: Day): PlotStand {
  const losses = stand.losses.filter((loss) => loss.seenOn > earlier);
  const removals = stand.removals.filter((removal) => removal.seenOn > earlier);
  const lost = losses.reduce((sum, loss) => sum + loss.plants, 0);
  const takenOut = removals.reduce((sum, removal) => sum + removal.plants, 0);
  return { ...stand, setOut: stand.standing + lost + takenOut, lost, losses, takenOut, removals };
}
