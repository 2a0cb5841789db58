import type { Database } from "@/db/open";
import { findGarden } from "@/db/queries/find-garden";
import { findTrial } from "@/db/queries/find-trial";
import { listCoverPlacings } from "@/db/queries/list-cover-placings";
import { listMainLevels } from "@/db/queries/list-main-levels";
import { changeMark, listTrialStamps } from "@/db/queries/list-trial-stamps";
import { listTrials } from "@/db/queries/list-trials";
import { analyseTrial } from "@/lib/analysis/analyse-trial";
import type { TrialRecord } from "@/lib/analysis/trial-record";
import type { TrialFrame } from "@/lib/analysis/variety-in-trial";
import { addDays } from "@/lib/words/day";
import { seasonOf, wentThroughWinter } from "@/lib/words/season";
import { answerOf, type TrialAnswer } from "./answer-of";
import { askAsideOr } from "./aside";
import type { House } from "./house";
import { trialFindings } from "./trial-findings";
import { trialRecord } from "./trial-record";

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
 * The answer of a trial, kept or worked out in its turn: one trial at a time, aside from the pages. Null when there is no
 * such trial.
 */
export function trialAnswer(house: House, trialId: string): Promise<TrialAnswer | null> {
  const ready = keptTrialAnswer(house, trialId);
  if (ready) return Promise.resolve(ready);
  const turn = lastInTurn
    .then(() => new Promise((resolve) => setImmediate(resolve)))
    .then(() => answerInTurn(house, trialId));
  lastInTurn = turn.catch(() => null);
  return turn;
}

async function answerInTurn(house: House, trialId: string): Promise<TrialAnswer | null> {
  const kept = keptNow(house);
  const ready = kept.answers.get(trialId);
  if (ready) return ready.answer;
  const stamp = kept.stamps.get(trialId);
  const record = trialRecord(house, trialId);
  if (stamp === undefined || !record) return null;
  const frame = frameOf(house, trialId, record);
  const answer = await askAsideOr(house, { kind: "answer", record, frame }, () =>
    answerOf(record, analyseTrial(record, { withoutRedealing: true }), frame),
  );
  if (!house.database.$client.open) return answer;
  // Not kept where something came in meanwhile that it does not hold.
  const now = keptNow(house);
  if (now.stamps.get(trialId) === stamp) now.answers.set(trialId, { stamp, answer });
  return answer;
}

/** The answer of a trial at once, which may hold up every other page for a moment. */
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

const begun = new WeakSet<Database>();

/** The first page that is asked for after a start goes first. */
const afterMs = 1_000;

/**
 * Begins, once after a start, to work out the answers of all trials, the last planted first: whoever opens the seasons, a
 * variety or a verdict later finds them there. Ends when the garden's file is closed.
 */
export function beginAnswers(house: House): void {
  const { database } = house;
  if (begun.has(database)) return;
  begun.add(database);
  setTimeout(() => void answerAll(house), afterMs).unref();
}

async function answerAll(house: House): Promise<void> {
  const { $client } = house.database;
  if (!$client.open) return;
  for (const { id } of listTrials(house.database)) {
    if (!$client.open) return;
    try {
      await trialAnswer(house, id);
    } catch (fault) {
      // The garden's file was closed in between, or one trial cannot be read: its own page says so.
      if ($client.open) house.report?.(fault);
    }
  }
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
    together: levels.flatMap(({ factor }) => (factor === "cover" ? [] : [factor]))[0] ?? null,
    covered: levels
      .filter(({ factor }) => factor === "cover")
      .map(({ coverName, coverKind }) => ({
        // As `trialRecord` names what a plot stood under, and the analysis a plot under nothing.
        cover: [...wholeNames, ...(coverName === null ? [] : [coverName])].join(", ") || "open ground",
        kinds: sorted([...whole.map(({ kind }) => kind), coverKind]),
      })),
  };
}
