import { analyseTrial } from "@/lib/analysis/analyse-trial";
import type { TrialFindings, YieldPer } from "@/lib/analysis/finding";
import type { Day } from "@/lib/words/day";
import type { House } from "./house";
import { findingsKey, keepFindings, keptFindings } from "./kept-findings";
import { trialRecord } from "./trial-record";

export interface FindingsQuestion {
  /** The day to tell of; without one, the deciding assessment or the last day seen. */
  at?: Day;
  yieldPer?: YieldPer;
  /** Code of a plot to leave out. */
  leavingOut?: string;
}

/**
 * What one trial's record says, on a day or as a whole, but for the p-values that come of dealing the layout again (they
 * are null): all that a decision rests on, at once. Null when there is no such trial.
 */
export function trialFindings(
  house: House,
  trialId: string,
  question: FindingsQuestion = {},
): TrialFindings | null {
  const record = trialRecord(house, trialId);
  if (!record) return null;
  const whole = keptFindings(findingsKey(record, question));
  if (whole) return whole;
  const options = { ...question, withoutRedealing: true };
  const key = findingsKey(record, options);
  return keptFindings(key) ?? keepFindings(key, analyseTrial(record, options));
}
