import { inForce } from "@/lib/journal/in-force";
import type { Day } from "@/lib/words/day";
import { daysBetween } from "@/lib/words/day";
import type { Observation, ObservationKind } from "@/lib/words/observation";
import type { AssessmentName } from "@/lib/words/trial";
import type { RecordPlot, TrialRecord } from "./trial-record";

/** A plot with the facts that count, in fold order, and the day from which an amendment takes it out. */
export interface ReadPlot {
  plot: RecordPlot;
  facts: Observation[];
  outFrom: Day | null;
  outReason: string | null;
}

/** Kinds of fact that tell how many plants stand. */
const standKinds: readonly ObservationKind[] = ["stand", "loss", "removed", "added", "regrew", "ended"];

/** The days within which a look that came late still serves an assessment. */
const lateLookDays = 14;

/** Each plot of a record with its facts in force and its amendment, in the record's order. */
export function readPlots(record: TrialRecord): ReadPlot[] {
  const byPlot = new Map<string, Observation[]>();
  for (const fact of inForce(record.facts)) {
    const own = byPlot.get(fact.plotId);
    if (own) own.push(fact);
    else byPlot.set(fact.plotId, [fact]);
  }
  return record.plots.map((plot) => {
    const amendment = record.amendments
      .filter((one) => one.plotId === plot.id)
      .sort((a, b) => (a.fromOn < b.fromOn ? -1 : 1))[0];
    return {
      plot,
      facts: byPlot.get(plot.id) ?? [],
      outFrom: amendment?.fromOn ?? null,
      outReason: amendment?.reason ?? null,
    };
  });
}

/** The days on which somebody told how many plants stand in some plot, in order. */
export function lookDays(plots: ReadPlot[]): Day[] {
  const days = plots.flatMap(({ facts }) =>
    facts.filter((fact) => standKinds.includes(fact.kind)).map((fact) => fact.seenOn),
  );
  return [...new Set(days)].sort();
}

/** The last day of which the record tells anything but notes; null for an empty record. */
export function lastTold(plots: ReadPlot[]): Day | null {
  const days = plots.flatMap(({ facts }) =>
    facts.filter((fact) => fact.kind !== "note" && fact.kind !== "not-seen").map((fact) => fact.seenOn),
  );
  return days.sort().at(-1) ?? null;
}

/**
 * The day on which an assessment stands: its due day, or the look nearest to it when that came up to two weeks late.
 * Null when the trial has no such assessment.
 */
export function assessedOn(record: TrialRecord, name: AssessmentName, looks: Day[]): Day | null {
  const due = record.assessments.find((assessment) => assessment.name === name)?.dueOn;
  if (!due) return null;
  const nearest = looks
    .filter((day) => Math.abs(daysBetween(due, day)) <= lateLookDays)
    .sort((a, b) => Math.abs(daysBetween(due, a)) - Math.abs(daysBetween(due, b)))[0];
  return nearest !== undefined && nearest > due ? nearest : due;
}
