import type { TrialFindings } from "@/lib/analysis/finding";
import { gardenName } from "./garden-name";
import type { House } from "./house";
import { trialFindings } from "./trial-findings";
import { trialVerdicts, type VerdictLine } from "./trial-verdicts";
import { type TrialView, trialView } from "./trial-view";

/** Everything that a report of one trial tells. */
export interface ReportView {
  garden: string | null;
  trial: TrialView;
  findings: TrialFindings;
  /** The verdict in force on each entry that has one, in entry order. */
  verdicts: VerdictLine[];
}

/** A trial as it is reported, as of the day that decides. Null when there is no such trial. */
export function reportView(house: House, trialId: string): ReportView | null {
  const trial = trialView(house, trialId);
  const findings = trialFindings(house, trialId);
  if (!trial || !findings) return null;
  const latest = trialVerdicts(house, trialId).filter((verdict) => verdict.isLatest);
  return {
    garden: gardenName(house)?.name ?? null,
    trial,
    findings,
    verdicts: trial.entries.flatMap((entry) => latest.filter((verdict) => verdict.entryId === entry.id)),
  };
}
