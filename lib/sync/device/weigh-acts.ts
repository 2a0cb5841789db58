import type { Day } from "@/lib/words/day";
import type { HarvestPart, Observation } from "@/lib/words/observation";
import { draftFact, draftWithdrawal, type FactDraft } from "./fact-draft";
import type { PlotView } from "./plot-view";

/** What was picked from one plot: grams, 0 for *nothing to pick*, null for *not picked*; and how many, when whole. */
export interface Picked {
  weightG: number | null;
  /** Whole plants taken, heads or roots; null when leaves or pods were picked and the plants stand on. */
  plants: number | null;
}

/** One pick as it stands in the record: its facts were made in one act and are changed and taken back together. */
export interface Pick extends Picked {
  facts: Observation[];
}

type Weighing = { weighInId: string; pickedOn: Day; part: HarvestPart; by: string };

/** Parts whose picking takes the plant. */
export function takesPlant(part: HarvestPart): boolean {
  return part === "head" || part === "root" || part === "bulb";
}

/** Which cohorts so many plants come from: as many as stand, the planting first; any more are booked to the planting. */
function fromCohorts(view: PlotView, plants: number): { cohortOn: Day | null; plants: number }[] {
  let left = plants;
  const taken = view.cohorts.map(({ cohortOn, standing }) => {
    const some = Math.min(left, standing);
    left -= some;
    return { cohortOn, plants: some };
  });
  taken[0].plants += left;
  return taken.filter((cohort) => cohort.plants > 0);
}

/** The facts of one pick: the grams; for whole plants also their number and their removal, in one act. */
export function pickDrafts(weighing: Weighing, view: PlotView, { weightG, plants }: Picked): FactDraft[] {
  const shared = {
    plotId: view.plot.id,
    walkaboutId: weighing.weighInId,
    seenOn: weighing.pickedOn,
    by: weighing.by,
  };
  const harvest = { ...shared, kind: "harvest", part: weighing.part } as const;
  const grams = draftFact({ ...harvest, amount: weightG, unit: "g" });
  if (plants === null || plants === 0 || weightG === null) return [grams];
  return [
    grams,
    draftFact({ ...harvest, amount: plants, unit: "count" }),
    ...fromCohorts(view, plants).map((cohort) =>
      draftFact({
        ...shared,
        kind: "removed",
        cause: "cut",
        cohortOn: cohort.cohortOn,
        amount: cohort.plants,
        unit: "plants",
      }),
    ),
  ];
}

/** The picks of a part from a plot on a day, in the order in which they were recorded. Facts of one act share its moment. */
export function picksOf(view: PlotView, pickedOn: Day, part: HarvestPart): Pick[] {
  const thatDay = view.inForce.filter((fact) => fact.seenOn === pickedOn);
  return thatDay
    .filter((fact) => fact.kind === "harvest" && fact.part === part && fact.unit === "g")
    .map((grams): Pick => {
      const facts = thatDay.filter(
        (fact) =>
          fact.deviceId === grams.deviceId &&
          fact.recordedAt === grams.recordedAt &&
          ((fact.kind === "harvest" && fact.part === part) ||
            (fact.kind === "removed" && fact.cause === "cut")),
      );
      const number = facts.find((fact) => fact.kind === "harvest" && fact.unit === "count");
      return { weightG: grams.amount, plants: number?.amount ?? null, facts };
    });
}

/** A pick put right: each fact replaces its like; what has no like any more is withdrawn. */
export function changePickDrafts(
  weighing: Weighing,
  view: PlotView,
  pick: Pick,
  picked: Picked,
): FactDraft[] {
  const cutBefore = pick.facts.filter((fact) => fact.kind === "removed");
  // The plants that the old pick took are there again for the new one.
  const before: PlotView = {
    ...view,
    cohorts: view.cohorts.map((cohort) => ({
      ...cohort,
      standing:
        cohort.standing +
        (cutBefore.find((fact) => (fact.cohortOn ?? null) === cohort.cohortOn)?.amount ?? 0),
    })),
  };
  const left = [...pick.facts];
  const drafts = pickDrafts(weighing, before, picked).map((draft) => {
    const index = left.findIndex(
      (fact) => fact.kind === draft.kind && fact.unit === draft.unit && fact.cohortOn === draft.cohortOn,
    );
    if (index < 0) return draft;
    const [old] = left.splice(index, 1);
    return { ...draft, replaces: old.id };
  });
  return [...drafts, ...takeBackPickDrafts(weighing, left)];
}

/** A pick taken back, or what is left over of one. */
export function takeBackPickDrafts(weighing: Weighing, facts: Observation[]): FactDraft[] {
  return facts.toReversed().map((fact) =>
    draftWithdrawal(fact, {
      seenOn: weighing.pickedOn,
      by: weighing.by,
      walkaboutId: weighing.weighInId,
      note: "taken back at the scale",
    }),
  );
}
