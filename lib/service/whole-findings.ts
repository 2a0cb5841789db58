import type { AnalysisOptions } from "@/lib/analysis/analyse-trial";
import type { TrialFindings } from "@/lib/analysis/finding";
import type { TrialRecord } from "@/lib/analysis/trial-record";
import { askAside } from "./aside";
import type { House } from "./house";
import { findingsKey, keepFindings, keptFindings } from "./kept-findings";
import { type FindingsQuestion, trialFindings } from "./trial-findings";
import { trialRecord } from "./trial-record";

const underWay = new Map<string, Promise<TrialFindings>>();

/**
 * What one trial's record says, with the layout dealt again for its p-values: the same as `trialFindings` and more, and
 * longer in coming. Worked out aside from the pages, once for each state of the record. Null when there is no such trial.
 */
export async function wholeFindings(
  house: House,
  trialId: string,
  question: FindingsQuestion = {},
): Promise<TrialFindings | null> {
  const record = trialRecord(house, trialId);
  return record && (keptFindings(findingsKey(record, question)) ?? once(record, question));
}

/** Works findings out aside from the pages and keeps them; whoever asks meanwhile waits for the same. */
async function once(record: TrialRecord, options: AnalysisOptions): Promise<TrialFindings> {
  const key = findingsKey(record, options);
  const begun =
    underWay.get(key) ??
    askAside({ kind: "findings", record, options }).then((findings) => keepFindings(key, findings));
  underWay.set(key, begun);
  try {
    return await begun;
  } finally {
    underWay.delete(key);
  }
}

/**
 * The same as `trialFindings`, worked out aside from the pages where it is not kept: other pages are answered meanwhile.
 */
export async function findingsInTurn(
  house: House,
  trialId: string,
  question: FindingsQuestion = {},
): Promise<TrialFindings | null> {
  const record = trialRecord(house, trialId);
  if (!record) return null;
  const options = { ...question, withoutRedealing: true };
  const ready = keptFindings(findingsKey(record, question)) ?? keptFindings(findingsKey(record, options));
  if (ready) return ready;
  try {
    return await once(record, options);
  } catch (fault) {
    house.report?.(fault);
    return trialFindings(house, trialId, question);
  }
}
