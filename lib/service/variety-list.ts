import { listCrops } from "@/db/queries/list-crops";
import { listVarieties } from "@/db/queries/list-varieties";
import { listVarietyTrials } from "@/db/queries/list-variety-trials";
import { listVerdicts } from "@/db/queries/list-verdicts";
import type { Day } from "@/lib/words/day";
import type { House } from "./house";

export interface VarietyLine {
  id: string;
  name: string;
  packetClaim: string | null;
  trials: { id: string; question: string; plantedOn: Day; verdict: string | null }[];
}

/** Every variety under its crop: what the packet says, the trials it stood in, and the last verdict from each. */
export function varietyList(house: House): { crop: string; varieties: VarietyLine[] }[] {
  const { database } = house;
  const varieties = listVarieties(database);
  const trials = listVarietyTrials(database);
  const verdicts = listVerdicts(database);
  return listCrops(database).map((crop) => ({
    crop: crop.name,
    varieties: varieties
      .filter((variety) => variety.cropId === crop.id)
      .map(({ id, name, packetClaim }) => ({
        id,
        name,
        packetClaim,
        trials: trials
          .filter((row) => row.varietyId === id)
          .map((row) => ({
            id: row.trialId,
            question: row.question,
            plantedOn: row.plantedOn,
            verdict: verdicts.filter((verdict) => verdict.entryId === row.entryId).at(-1)?.choice ?? null,
          })),
      })),
  }));
}
