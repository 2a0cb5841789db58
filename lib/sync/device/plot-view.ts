import type { OpenQuestion } from "@/lib/journal/fold-cohort";
import { inForce } from "@/lib/journal/in-force";
import { standAt } from "@/lib/journal/stand-at";
import type { FieldPack, FieldPlot } from "@/lib/sync/field-pack";
import type { Day } from "@/lib/words/day";
import type { Observation } from "@/lib/words/observation";
import { allFacts } from "./all-facts";
import type { MarksByPlot, PlotMarks } from "./device-store";
import type { OutboxEntry } from "./outbox-entry";
import { type Mark, plotMarks } from "./plot-marks";

/** Plants of one setting-out as the ledger has them now. */
export interface CohortView {
  /** As facts name it: null is the planting. */
  cohortOn: Day | null;
  setOutOn: Day;
  standing: number;
  doubtful: number;
  lost: number;
}

/** A plot as the phone knows it: home's facts and its own, folded by the same code as at home. */
export interface PlotView {
  plot: FieldPlot;
  /** The planting first, then later fillings. */
  cohorts: CohortView[];
  standing: number;
  doubtful: number;
  /** Each plant as it is drawn; see `plotMarks`. */
  marks: Mark[];
  questions: OpenQuestion[];
  lastSeenOn: Day | null;
  endedOn: Day | null;
  firstFlowerStemOn: Day | null;
  /** Facts of the plot that are neither corrected nor withdrawn, in fold order. */
  inForce: Observation[];
}

function latest(days: (Day | null)[]): Day | null {
  return days.reduce((last, day) => (day !== null && (last === null || day > last) ? day : last), null);
}

function viewPlot(plot: FieldPlot, facts: Observation[], marks: PlotMarks | undefined): PlotView {
  const { fillings, ...planting } = standAt(plot, facts, null);
  const stands = [planting, ...fillings];
  const cohorts = stands.map(
    (stand, index): CohortView => ({
      cohortOn: index === 0 ? null : stand.setOutOn,
      setOutOn: stand.setOutOn ?? plot.plantedOn,
      standing: stand.standing,
      doubtful: stand.doubtful,
      lost: stand.lost,
    }),
  );
  const standing = cohorts.reduce((sum, cohort) => sum + cohort.standing, 0);
  const doubtful = cohorts.reduce((sum, cohort) => sum + cohort.doubtful, 0);
  return {
    plot,
    cohorts,
    standing,
    doubtful,
    marks: plotMarks({ plants: plot.plants, cohorts, doubtful }, marks ?? {}),
    questions: stands.flatMap((stand) => stand.questions),
    lastSeenOn: latest(stands.map((stand) => stand.lastSeenOn)),
    endedOn: planting.endedOn,
    firstFlowerStemOn: planting.firstFlowerStemOn,
    inForce: facts,
  };
}

/** What a view was made from. */
interface Grounds {
  plot: FieldPlot;
  facts: Observation[];
  marks: PlotMarks | undefined;
  until: Day | null;
}

/** A fact is never edited: the same ids in the same order are the same facts. */
function isSame(one: Grounds, other: Grounds): boolean {
  return (
    one.plot === other.plot &&
    one.marks === other.marks &&
    one.until === other.until &&
    one.facts.length === other.facts.length &&
    one.facts.every((fact, index) => fact.id === other.facts[index].id)
  );
}

/**
 * Gives every plot of the pack as it stands by home's facts and the phone's; `until` leaves out what was seen after a
 * day, for a sheet of paper that is entered later. What it gave last is remembered, and only a plot of which something
 * new is told is folded anew: the others keep the very same view, so that a tap draws one plot and not the bed.
 */
export function plotViewer() {
  const last = new Map<string, { grounds: Grounds; view: PlotView }>();
  return (
    pack: FieldPack,
    entries: OutboxEntry[],
    marks: MarksByPlot,
    until: Day | null = null,
  ): Map<string, PlotView> => {
    const byPlot = new Map<string, Observation[]>();
    for (const fact of allFacts(pack, entries)) {
      const facts = byPlot.get(fact.plotId);
      if (facts) facts.push(fact);
      else byPlot.set(fact.plotId, [fact]);
    }
    const views = new Map<string, PlotView>();
    for (const plot of pack.beds.flatMap((bed) => bed.plots)) {
      const grounds = { plot, facts: byPlot.get(plot.id) ?? [], marks: marks[plot.id], until };
      const known = last.get(plot.id);
      if (known && isSame(known.grounds, grounds)) {
        views.set(plot.id, known.view);
        continue;
      }
      const counting = inForce(grounds.facts);
      const facts = until === null ? counting : counting.filter((fact) => fact.seenOn <= until);
      const view = viewPlot(plot, facts, grounds.marks);
      last.set(plot.id, { grounds, view });
      views.set(plot.id, view);
    }
    return views;
  };
}

/** The same once, with nothing remembered. */
export const plotViews: ReturnType<typeof plotViewer> = (...asked) => plotViewer()(...asked);
