import { listCrops } from "@/db/queries/list-crops";
import { listVarieties } from "@/db/queries/list-varieties";
import { listVarietyTrials } from "@/db/queries/list-variety-trials";
import { listVerdictChoices } from "@/db/queries/list-verdict-choices";
import { type Proof, proofs } from "@/lib/analysis/many-winters";
import type { VarietyInTrial } from "@/lib/analysis/variety-in-trial";
import type { Day } from "@/lib/words/day";
import type { VerdictChoice } from "@/lib/words/trial";
import { askAsideOr } from "./aside";
import type { House } from "./house";
import { keptPooledSurvival } from "./kept-pooled-survival";
import { trialAnswer } from "./trial-answer";
import type { Use } from "./trial-verdicts";
import { keyOfUse, readerOfUses, type VerdictUse } from "./verdict-use";
import { whileUnchanged } from "./while-unchanged";

export interface VarietyLine {
  id: string;
  name: string;
  packetClaim: string | null;
  trialIds: string[];
  /** The last verdict on each use that one was given on, the last given first. */
  verdicts: { use: VerdictUse; choice: VerdictChoice; decidedOn: Day }[];
}

/** Every variety under its crop: what the packet says, the trials that it stood in, and the last verdict by use. */
export function varietyList(house: House): { crop: string; varieties: VarietyLine[] }[] {
  return whileUnchanged(house, ["variety list"], () => listNow(house));
}

function listNow({ database }: House): { crop: string; varieties: VarietyLine[] }[] {
  const varieties = listVarieties(database);
  const readUse = readerOfUses(database);
  const trials = new Map<string, string[]>();
  const entries = new Map<string, { varietyId: string; trialId: string }>();
  for (const { varietyId, entryId, trialId } of listVarietyTrials(database)) {
    trials.set(varietyId, [...(trials.get(varietyId) ?? []), trialId]);
    entries.set(entryId, { varietyId, trialId });
  }
  const verdicts = new Map<string, Map<string, VarietyLine["verdicts"][number]>>();
  for (const { entryId, use: kept, choice, decidedOn } of listVerdictChoices(database)) {
    const { varietyId, trialId } = entries.get(entryId) ?? { varietyId: "", trialId: "" };
    const use = readUse(trialId, kept as Use);
    const own = verdicts.get(varietyId) ?? new Map();
    // A later verdict on the same use takes the earlier one's place, and goes to the end.
    own.delete(keyOfUse(use));
    verdicts.set(varietyId, own.set(keyOfUse(use), { use, choice, decidedOn }));
  }
  return listCrops(database).map((crop) => ({
    crop: crop.name,
    varieties: varieties
      .filter((variety) => variety.cropId === crop.id)
      .map(({ id, name, packetClaim }) => ({
        id,
        name,
        packetClaim,
        trialIds: trials.get(id) ?? [],
        verdicts: [...(verdicts.get(id)?.values() ?? [])].reverse(),
      })),
  }));
}

/** What the bed has proved of each variety, by its id; worked out in turn, so that other pages are served between. */
export async function varietyProofs(
  house: House,
  varieties: readonly VarietyLine[],
): Promise<Map<string, Proof[]>> {
  const found = new Map<string, Proof[]>();
  for (const variety of varieties)
    found.set(
      variety.id,
      await whileUnchanged(house, ["proofs", variety.id], () => proofsOf(house, variety)),
    );
  return found;
}

async function proofsOf(house: House, { name, trialIds }: VarietyLine): Promise<Proof[]> {
  const trials: VarietyInTrial[] = [];
  for (const trialId of trialIds) trials.push(...((await trialAnswer(house, trialId))?.varieties ?? []));
  return askAsideOr(house, { kind: "proofs", variety: name, trials }, () =>
    proofs(name, trials, { pool: keptPooledSurvival }),
  );
}
