import type { OpenQuestion } from "@/lib/journal/fold-cohort";
import { inForce } from "@/lib/journal/in-force";
import { standAt } from "@/lib/journal/stand-at";
import type { FieldPack, FieldPlot } from "@/lib/sync/field-pack";
import type { Day } from "@/lib/words/day";
import type { Observation } from "@/lib/words/observation";
import { allFacts } from "./all-facts";
import type { MarksByPlot } from "./device-store";
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

function viewPlot(plot: FieldPlot, facts: Observation[], marks: MarksByPlot): PlotView {
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
    marks: plotMarks({ plants: plot.plants, cohorts, doubtful }, marks[plot.id] ?? {}),
    questions: stands.flatMap((stand) => stand.questions),
    lastSeenOn: latest(stands.map((stand) => stand.lastSeenOn)),
    endedOn: planting.endedOn,
    firstFlowerStemOn: planting.firstFlowerStemOn,
    inForce: facts,
  };
}

/**
 * Every plot of the pack as it stands by home's facts and the phone's; `until` leaves out what was seen after a day, for a
 * sheet of paper that is entered later.
 */
export function plotViews(
  pack: FieldPack,
  entries: OutboxEntry[],
  marks: MarksByPlot,
  until: Day | null = null,
): Map<string, PlotView> {
  const byPlot = new Map<string, Observation[]>();
  for (const fact of allFacts(pack, entries)) {
    const facts = byPlot.get(fact.plotId);
    if (facts) facts.push(fact);
    else byPlot.set(fact.plotId, [fact]);
  }
  const plots = pack.beds.flatMap((bed) => bed.plots);
  return new Map(
    plots.map((plot) => {
      const counting = inForce(byPlot.get(plot.id) ?? []);
      const facts = until === null ? counting : counting.filter((fact) => fact.seenOn <= until);
      return [plot.id, viewPlot(plot, facts, marks)];
    }),
  );
}
