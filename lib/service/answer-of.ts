import type { TrialFindings } from "@/lib/analysis/finding";
import { meanReach } from "@/lib/analysis/mean-reach";
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
  /** How its plots scattered, with the degrees of freedom that tell it; null where they tell nothing. */
  scatter: { icc: Scattered | null; squaredCv: Scattered | null };
}

interface Scattered {
  figure: number;
  df: number;
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
    scatter: scatterOf(findings),
  };
}

function scatterOf({ survival, yield: harvest }: TrialFindings): TrialAnswer["scatter"] {
  const { icc = null, df = 0 } = survival?.value ?? {};
  const { cv = null, residualDf = 0 } = harvest?.value ?? {};
  return {
    icc: icc !== null && df > 0 ? { figure: icc, df } : null,
    squaredCv: cv !== null && residualDf > 0 ? { figure: (cv / 100) ** 2, df: residualDf } : null,
  };
}
