import { scriptData } from "@/lib/analysis/script-data";
import { rScript } from "@/lib/report/r-script";
import type { House } from "./house";
import { type FindingsQuestion, trialFindings } from "./trial-findings";
import { trialRecord } from "./trial-record";
import { trialView } from "./trial-view";

/** One trial's figures as a script in R with the data in it; null when there is no such trial, or nothing to work out. */
export function trialScript(
  house: House,
  trialId: string,
  question: FindingsQuestion = {},
): { fileName: string; text: string } | null {
  const trial = trialView(house, trialId);
  const record = trialRecord(house, trialId);
  const findings = trialFindings(house, trialId, question);
  if (!trial || !record || !findings || (!findings.survival && !findings.yield)) return null;
  const crop = trial.crop.toLowerCase().replace(/[^a-z0-9]+/g, "-");
  return {
    fileName: `${crop}-planted-${trial.plantedOn}.R`,
    text: rScript({
      question: trial.question,
      findings,
      data: scriptData(record, question),
      rule: record.rule,
      leavingOut: question.leavingOut ?? null,
    }),
  };
}
