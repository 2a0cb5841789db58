import type { FieldPlot } from "@/lib/sync/field-pack";
import type { Fact } from "@/lib/words/bed-fact";
import type { Day } from "@/lib/words/day";
import { growthStage } from "@/lib/words/growth-stage";
import type { Observation, ObservationKind } from "@/lib/words/observation";
import { firstFlowerStem } from "@/lib/words/trait";
import { type Draft, draftFact, draftWithdrawal, type FactDraft } from "./fact-draft";
import type { CohortView, PlotView } from "./plot-view";

/** Who looks, when, and on which round: what every fact of a walkabout shares. */
export interface Looking {
  by: string;
  seenOn: Day;
  walkaboutId: string;
}

function plantFact(
  looking: Looking,
  plot: FieldPlot,
  kind: ObservationKind,
  cohortOn: Day | null,
  amount: number,
  changes: Partial<FactDraft> = {},
): FactDraft {
  return draftFact({ ...looking, plotId: plot.id, kind, cohortOn, amount, unit: "plants", ...changes });
}

/** Plants that are gone: one fact for each cohort that lost any. `cohortsOn` names the cohort of each plant. */
export function loseDrafts(
  looking: Looking,
  view: PlotView,
  cohortsOn: (Day | null)[],
  cause: string,
): FactDraft[] {
  return countEach(cohortsOn).map(([cohortOn, amount]) =>
    plantFact(looking, view.plot, "loss", cohortOn, amount, { cause }),
  );
}

/** Plants taken out by somebody, with the reason; none of them is a loss. */
export function removeDrafts(
  looking: Looking,
  view: PlotView,
  cohortsOn: (Day | null)[],
  reason: string,
): FactDraft[] {
  return countEach(cohortsOn).map(([cohortOn, amount]) =>
    plantFact(looking, view.plot, "removed", cohortOn, amount, { cause: reason }),
  );
}

/**
 * Plants that look dead and may come again: how many in all look so on each cohort now, `change` more or fewer by cohort.
 * The ledger does not move.
 */
export function doubtDrafts(
  looking: Looking,
  view: PlotView,
  cohortsOn: (Day | null)[],
  change: 1 | -1,
): FactDraft[] {
  return countEach(cohortsOn).map(([cohortOn, plants]) => {
    const doubted = view.cohorts.find((cohort) => cohort.cohortOn === cohortOn)?.doubtful ?? 0;
    return plantFact(looking, view.plot, "doubtful", cohortOn, Math.max(0, doubted + change * plants));
  });
}

function countEach(cohortsOn: (Day | null)[]): [Day | null, number][] {
  const counts = new Map<Day | null, number>();
  for (const cohortOn of cohortsOn) counts.set(cohortOn, (counts.get(cohortOn) ?? 0) + 1);
  return [...counts];
}

/** Plants that came again from the crown. */
export function regrewDraft(
  looking: Looking,
  view: PlotView,
  cohortOn: Day | null,
  amount: number,
): FactDraft {
  return plantFact(looking, view.plot, "regrew", cohortOn, amount);
}

/** Plants set in gaps; `cohortOn` as `fillingCohort` gives it. */
export function addedDraft(
  looking: Looking,
  view: PlotView,
  cohortOn: Day | null,
  amount: number,
): FactDraft {
  return plantFact(looking, view.plot, "added", cohortOn, amount);
}

/** What was counted of a cohort; a later count of the same day is a recount. */
export function standDraft(
  looking: Looking,
  view: PlotView,
  cohortOn: Day | null,
  amount: number,
): FactDraft {
  return plantFact(looking, view.plot, "stand", cohortOn, amount);
}

const moves: readonly ObservationKind[] = ["loss", "removed", "added", "regrew", "stand"];

/** The last thing that this round said of how many stand in a cohort, or null when it has said nothing yet. */
function lastSaid(view: PlotView, cohort: CohortView, walkaboutId: string): Observation | null {
  return (
    view.inForce
      .filter(
        (fact) =>
          fact.walkaboutId === walkaboutId &&
          (fact.cohortOn ?? view.plot.plantedOn) === cohort.setOutOn &&
          moves.includes(fact.kind),
      )
      .at(-1) ?? null
  );
}

function notLookedAt(view: PlotView, walkaboutId: string): boolean {
  return view.inForce.some((fact) => fact.kind === "not-seen" && fact.walkaboutId === walkaboutId);
}

/**
 * *The rest stand*: a stand count for every cohort of every plot that is still in the bed. Plots where something was
 * found on this round get one too, of what is left, after the loss: so the record says what was seen, and a loss noted
 * twice by two people shows itself as a count above the ledger. Left out are plots that have ended, those that could not
 * be looked at on this round, and those whose last word on this round is a count already.
 */
export function restStandDrafts(looking: Looking, views: PlotView[]): FactDraft[] {
  return views
    .filter((view) => view.endedOn === null && !notLookedAt(view, looking.walkaboutId))
    .flatMap((view) =>
      view.cohorts
        .filter((cohort) => lastSaid(view, cohort, looking.walkaboutId)?.kind !== "stand")
        .map((cohort) => standDraft(looking, view, cohort.cohortOn, cohort.standing)),
    );
}

function ofEachCohort(looking: Looking, view: PlotView, kind: ObservationKind): FactDraft[] {
  return view.cohorts.map(({ cohortOn }) => draftFact({ ...looking, plotId: view.plot.id, cohortOn, kind }));
}

/** *Could not look*: not seen, for every plot of which this round has said nothing yet. Never taken as all standing. */
export function couldNotLookDrafts(looking: Looking, views: PlotView[]): FactDraft[] {
  return views
    .filter((view) => view.endedOn === null)
    .filter((view) => !view.inForce.some((fact) => fact.walkaboutId === looking.walkaboutId))
    .flatMap((view) => ofEachCohort(looking, view, "not-seen"));
}

/** Plants that show a first flower stem, by count. */
export function flowerStemDraft(looking: Looking, view: PlotView, plants: number): FactDraft {
  return draftFact({
    ...looking,
    plotId: view.plot.id,
    kind: "count",
    trait: firstFlowerStem,
    amount: plants,
    unit: "count",
  });
}

/** The growth stage of a plot, 0 to 99. */
export function stageDraft(looking: Looking, view: PlotView, stage: number): FactDraft {
  return draftFact({
    ...looking,
    plotId: view.plot.id,
    kind: "count",
    trait: growthStage,
    amount: stage,
    unit: "count",
  });
}

/** A score from 0 to 9 of a trait, for the plot. */
export function scoreDraft(looking: Looking, view: PlotView, trait: string, score: number): FactDraft {
  return draftFact({
    ...looking,
    plotId: view.plot.id,
    kind: "score",
    trait,
    amount: score,
    unit: "score",
  });
}

/** The end of a plot in the trial: from this day on it is not walked. */
export function endedDrafts(looking: Looking, view: PlotView): FactDraft[] {
  return ofEachCohort(looking, view, "ended");
}

export function noteDraft(
  looking: Looking,
  view: PlotView,
  note: string,
  picture: string | null = null,
): FactDraft {
  const draft = draftFact({ ...looking, plotId: view.plot.id, kind: "note", note });
  return picture === null ? draft : { ...draft, picture };
}

const takenBack = "taken back where it was recorded";

/**
 * Takes the last act back: a withdrawal for each of its facts, the last made first. Facts of a walkabout replace none, so
 * nothing hangs on them.
 */
export function takeBackDrafts(looking: Looking, facts: Fact[]): Draft[] {
  return facts.toReversed().map((fact) => draftWithdrawal(fact, { ...looking, note: takenBack }));
}

/** By how many plants a fact moves the stand. */
function moved({ kind, amount }: Observation): number {
  if (kind === "loss" || kind === "removed") return -(amount ?? 0);
  return kind === "added" || kind === "regrew" ? (amount ?? 0) : 0;
}

/**
 * Takes one fact of this round back when others came after it. A count that the round has made of the same cohort since
 * then would contradict the record, so it is taken back too and written anew without the fact's plants.
 */
export function setRightDrafts(looking: Looking, view: PlotView, fact: Observation): FactDraft[] {
  const drafts = [draftWithdrawal(fact, { ...looking, note: takenBack })];
  const count = view.inForce.findLast(
    (other) =>
      other.kind === "stand" &&
      other.walkaboutId === fact.walkaboutId &&
      other.cohortOn === fact.cohortOn &&
      other.deviceId === fact.deviceId &&
      other.deviceSequence > fact.deviceSequence,
  );
  if (count === undefined || moved(fact) === 0) return drafts;
  const counted = Math.max(0, (count.amount ?? 0) - moved(fact));
  return [
    ...drafts,
    draftWithdrawal(count, { ...looking, note: takenBack }),
    standDraft(looking, view, count.cohortOn, counted),
  ];
}
