import { fillingCohort } from "@/lib/journal/filling-cohort";
import type { FieldTrial } from "@/lib/sync/field-pack";
import { type Day, daysBetween } from "@/lib/words/day";
import type { Observation } from "@/lib/words/observation";
import type { Assessment } from "@/lib/words/trial";

const openForDays = 7;

/** The assessment of a trial that is due today or became due within the week; scores are asked for then and not else. */
export function dueAssessment(trial: FieldTrial, today: Day): Assessment | null {
  const due = trial.assessments.filter(({ dueOn }) => {
    const since = daysBetween(dueOn, today);
    return since >= 0 && since < openForDays;
  });
  return due.at(-1) ?? null;
}

/** The scores that a plot still wants for an assessment, in the trial's order. `facts` are those in force. */
export function traitsToScore(
  trial: FieldTrial,
  assessment: Assessment,
  plotId: string,
  facts: Observation[],
): string[] {
  const scored = facts.filter(
    (fact) => fact.kind === "score" && fact.plotId === plotId && fact.seenOn >= assessment.dueOn,
  );
  return trial.traits.filter((trait) => !scored.some((fact) => fact.trait === trait));
}

/** The cohort that plants set into gaps on a day belong to; see the journal's `fillingCohort`. */
export function cohortOfFilling(trial: FieldTrial, filledOn: Day): Day | null {
  const took = trial.assessments.find((assessment) => assessment.name === "took");
  return fillingCohort(trial.plantedOn, took?.dueOn ?? null, filledOn);
}
