import { analyseTrial } from "@/lib/analysis/analyse-trial";
import type { TrialFindings, YieldPer } from "@/lib/analysis/finding";
import type { Day } from "@/lib/words/day";
import type { House } from "./house";
import { trialRecord } from "./trial-record";

/** What one trial's record says, on a day or as a whole. Null when there is no such trial. */
export function trialFindings(
  house: House,
  trialId: string,
  options: { at?: Day; yieldPer?: YieldPer } = {},
): TrialFindings | null {
  const record = trialRecord(house, trialId);
  return record && analyseTrial(record, options);
}
