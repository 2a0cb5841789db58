import type { Database } from "@/db/open";
import { findGarden } from "@/db/queries/find-garden";
import { findTrial } from "@/db/queries/find-trial";
import { listCoverPlacings } from "@/db/queries/list-cover-placings";
import { listMainLevels } from "@/db/queries/list-main-levels";
import { changeMark, listTrialStamps } from "@/db/queries/list-trial-stamps";
import type { SurvivalOfVariety, TrialFindings } from "@/lib/analysis/finding";
import type { TrialRecord } from "@/lib/analysis/trial-record";
import { type TrialFrame, type VarietyInTrial, varietiesInTrial } from "@/lib/analysis/variety-in-trial";
import { answerWords } from "@/lib/report/answer-words";
import { addDays, type Day } from "@/lib/words/day";
import { seasonOf, wentThroughWinter } from "@/lib/words/season";
import type { House } from "./house";
import { trialFindings } from "./trial-findings";
import { trialRecord } from "./trial-record";

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

interface Kept {
  mark: string;
  stamps: Map<string, string>;
  answers: Map<string, { stamp: string; answer: TrialAnswer }>;
}

const keptOf = new WeakMap<Database, Kept>();

/** The answers worked out so far; those of trials that changed since are let go. Costs nothing while nothing changed. */
function keptNow({ database }: House): Kept {
  const mark = changeMark(database);
  const known = keptOf.get(database);
  if (known?.mark === mark) return known;
  const stamps = listTrialStamps(database);
  const answers = new Map(
    [...(known?.answers ?? [])].filter(([trialId, { stamp }]) => stamps.get(trialId) === stamp),
  );
  const kept = { mark, stamps, answers };
  keptOf.set(database, kept);
  return kept;
}

/** The answer of a trial where it was worked out before and still holds; otherwise null. */
export function keptTrialAnswer(house: House, trialId: string): TrialAnswer | null {
  return keptNow(house).answers.get(trialId)?.answer ?? null;
}

let lastInTurn: Promise<unknown> = Promise.resolve();

/**
 * The answer of a trial, kept or worked out in its turn: one trial at a time, with room between for other pages. Null when
 * there is no such trial.
 */
export function trialAnswer(house: House, trialId: string): Promise<TrialAnswer | null> {
  const kept = keptTrialAnswer(house, trialId);
  if (kept) return Promise.resolve(kept);
  const turn = lastInTurn
    .then(() => new Promise((resolve) => setImmediate(resolve)))
    .then(() => trialAnswerNow(house, trialId));
  lastInTurn = turn.catch(() => null);
  return turn;
}

/** The answer of a trial at once. */
export function trialAnswerNow(house: House, trialId: string): TrialAnswer | null {
  const kept = keptNow(house);
  const ready = kept.answers.get(trialId);
  if (ready) return ready.answer;
  const stamp = kept.stamps.get(trialId);
  const record = trialRecord(house, trialId);
  const findings = trialFindings(house, trialId);
  if (stamp === undefined || !record || !findings) return null;
  const answer = answerOf(record, findings, frameOf(house, trialId, record));
  kept.answers.set(trialId, { stamp, answer });
  return answer;
}

function answerOf(record: TrialRecord, findings: TrialFindings, frame: TrialFrame): TrialAnswer {
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

/** How long a trial without a deciding day is taken to stand, where only its planting tells whether a winter lies within. */
const standsAboutDays = 240;

function frameOf({ database }: House, trialId: string, record: TrialRecord): TrialFrame {
  const trial = findTrial(database, trialId);
  if (!trial) throw new Error(`frameOf requires a trial; got ${trialId}`);
  const latitude = findGarden(database)?.latitude ?? 0;
  const due = record.assessments.find((one) => one.name === record.decidingAssessment)?.dueOn;
  const whole = listCoverPlacings(database, trialId);
  const sorted = (kinds: (string | null)[]) => [...new Set(kinds.filter((kind) => kind !== null))].sort();
  const levels = listMainLevels(database, trialId);
  const wholeNames = [...new Set(whole.map(({ name }) => name))];
  return {
    trialId,
    question: trial.question,
    purpose: trial.purpose,
    season: seasonOf(trial.plantedOn, latitude),
    sownOn: trial.sownOn,
    plantedOn: trial.plantedOn,
    isClosed: trial.closedOn !== null,
    isOverWinter: wentThroughWinter(
      trial.plantedOn,
      due ?? addDays(trial.plantedOn, standsAboutDays),
      latitude,
    ),
    coverKinds: sorted(whole.map(({ kind }) => kind)),
    isOfManySowings: levels.some(({ factor }) => factor === "sowing"),
    covered: levels
      .filter(({ factor }) => factor === "cover")
      .map(({ coverName, coverKind }) => ({
        // As `trialRecord` names what a plot stood under, and the analysis a plot under nothing.
        cover: [...wholeNames, ...(coverName === null ? [] : [coverName])].join(", ") || "open ground",
        kinds: sorted([...whole.map(({ kind }) => kind), coverKind]),
      })),
  };
}
