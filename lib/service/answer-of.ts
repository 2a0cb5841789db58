import type { SurvivalOfVariety, TrialFindings } from "@/lib/analysis/finding";
import type { TrialRecord } from "@/lib/analysis/trial-record";
import { type TrialFrame, type VarietyInTrial, varietiesInTrial } from "@/lib/analysis/variety-in-trial";
import { answerWords } from "@/lib/report/answer-words";
import type { Day } from "@/lib/words/day";

/** What a trial says in one sentence, and of each variety: kept for every trial, where findings are too large to be. */
export interface TrialAnswer {
  asOf: Day | null;
  /** Null while nothing has been recorded. */
  headline: string | null;
  plants: number;
  plots: number;
  /** How far, on average, the limits of a variety's share lie from it; null without limits. */
  reach: number | null;
  /** The caution that matters most. */
  caution: string | null;
  varieties: VarietyInTrial[];
}

/** A trial's answer out of its findings, by the pages or aside from them. */
export function answerOf(record: TrialRecord, findings: TrialFindings, frame: TrialFrame): TrialAnswer {
  const { survival, yield: harvest } = findings;
  const told = survival ?? harvest;
  const [caution] = [...findings.cautions, ...(told?.cautions ?? [])];
  return {
    asOf: findings.at,
    headline: told ? answerWords(findings) : null,
    plants: told?.plants ?? 0,
    plots: told?.plots ?? 0,
    reach: meanReach(survival?.value.varieties ?? []),
    caution: caution?.text ?? null,
    varieties: varietiesInTrial(record, findings, frame),
  };
}

function meanReach(varieties: readonly SurvivalOfVariety[]): number | null {
  const widths = varieties.flatMap(({ low, high }) => (low === null || high === null ? [] : [high - low]));
  return widths.length === 0 ? null : widths.reduce((sum, width) => sum + width, 0) / widths.length / 2;
}
