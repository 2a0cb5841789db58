import type { TrialFindings } from "@/lib/analysis/finding";
import { type Day, sayDay } from "@/lib/words/day";
import type { Assessment, AssessmentName } from "@/lib/words/trial";

/**
 * Whether the winter put the varieties to the test, by the one known to be tender: *The tender check Thornlea fell, so
 * this winter tested them.* Null where none stood beside them.
 */
export function sentenceForTest({ trial, cautions }: TrialFindings): string | null {
  const { tenderCheck, tested } = trial;
  if (tenderCheck === null || tested === null) return null;
  if (tested) return `The tender check ${tenderCheck} fell, so the winter tested them.`;
  return cautions.some((caution) => caution.code === "to-come")
    ? `The tender check ${tenderCheck} still stands: the winter has not tested them yet.`
    : `The tender check ${tenderCheck} stood, so the winter did not test them: that the others stood as well proves little.`;
}

interface Running {
  state: "planned" | "running" | "closed";
  today: Day;
  assessments: Assessment[];
  decidingAssessment: AssessmentName;
}

/** What a running trial still has before it; null once nothing is. */
export function sentenceForStillToCome(trial: Running): string | null {
  if (trial.state !== "running") return null;
  const ahead = trial.assessments
    .filter(({ dueOn }) => dueOn > trial.today)
    .sort((a, b) => (a.dueOn < b.dueOn ? -1 : 1));
  if (ahead.length === 0) return null;
  const named = ahead.map(
    ({ name, dueOn }) =>
      `“${name}” on ${sayDay(dueOn, true)}${name === trial.decidingAssessment ? ", which decides" : ""}`,
  );
  return `Still to come: ${named.join("; ")}. What stands now may yet be lost.`;
}
