import { findVariety } from "@/db/queries/find-variety";
import { listTrialsOfVariety } from "@/db/queries/list-trials-of-variety";
import { listVerdictsOfVariety } from "@/db/queries/list-verdicts-of-variety";
import type { Finding } from "@/lib/analysis/finding";
import { type ManyWinters, manyWinters } from "@/lib/analysis/many-winters";
import type { VarietyInTrial } from "@/lib/analysis/variety-in-trial";
import type { Day } from "@/lib/words/day";
import type { TrialState, VerdictChoice } from "@/lib/words/trial";
import { askAsideOr } from "./aside";
import type { House } from "./house";
import { keptPooledSurvival } from "./kept-pooled-survival";
import { todayAt } from "./today-at";
import { trialAnswer } from "./trial-answer";
import { trialState } from "./trial-state";
import type { Use } from "./trial-verdicts";
import { keyOfUse, readerOfUses, type VerdictUse } from "./verdict-use";
import { whileUnchanged } from "./while-unchanged";

export interface VarietyTrialLine {
  id: string;
  question: string;
  plantedOn: Day;
  state: TrialState;
  /** What the trial says of this variety; null where nothing is recorded. */
  told: VarietyInTrial | null;
}

/** A verdict given anywhere on this variety. */
export interface VarietyVerdict {
  id: string;
  trialId: string;
  question: string;
  use: VerdictUse;
  choice: VerdictChoice;
  proposal: VerdictChoice | null;
  reason: string;
  by: string;
  decidedOn: Day;
}

export interface VarietyView {
  id: string;
  name: string;
  crop: string;
  packetClaim: string | null;
  /** The last planted first. */
  trials: VarietyTrialLine[];
  /** One for each kind of winter that it stood through, the one with most winters first. */
  winters: Finding<ManyWinters>[];
  /** By use, the use last decided on first; within a use the last decided first. */
  verdicts: { use: VerdictUse; verdicts: VarietyVerdict[] }[];
}

/** All that is known of one variety, all winters together. Null when there is no such variety. */
export function varietyView(house: House, varietyId: string): Promise<VarietyView | null> {
  const today = todayAt(house);
  return whileUnchanged(house, ["variety", varietyId, today], () => viewNow(house, varietyId, today));
}

async function viewNow(house: House, varietyId: string, today: Day): Promise<VarietyView | null> {
  const { database } = house;
  const variety = findVariety(database, varietyId);
  if (!variety) return null;
  const readUse = readerOfUses(database);
  const trials: VarietyTrialLine[] = [];
  for (const { id, question, plantedOn, closedOn, hasObservations } of listTrialsOfVariety(
    database,
    varietyId,
  )) {
    const answer = await trialAnswer(house, id);
    trials.push({
      id,
      question,
      plantedOn,
      state: trialState({ plantedOn, closedOn, hasObservations }, today),
      told: answer?.varieties.find((one) => one.variety === variety.name) ?? null,
    });
  }
  const told = trials.flatMap((trial) => trial.told ?? []);
  return {
    ...variety,
    trials,
    winters: await askAsideOr(house, { kind: "winters", variety: variety.name, trials: told }, () =>
      manyWinters(variety.name, told, { pool: keptPooledSurvival }),
    ),
    verdicts: byUse(
      listVerdictsOfVariety(database, varietyId).map(({ use, ...row }) => ({
        ...row,
        use: readUse(row.trialId, use as Use),
      })),
    ),
  };
}

function byUse(verdicts: VarietyVerdict[]): VarietyView["verdicts"] {
  const uses = new Map<string, VarietyVerdict[]>();
  for (const verdict of verdicts) {
    const key = keyOfUse(verdict.use);
    uses.set(key, [...(uses.get(key) ?? []), verdict]);
  }
  return [...uses.values()].map((own) => ({ use: own[0].use, verdicts: own }));
}
