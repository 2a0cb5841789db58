import { desc, eq } from "drizzle-orm";
import type { Day } from "@/lib/words/day";
import type { Database } from "../open";
import { entry, trial } from "../schema/trial";

export interface VarietyTrialRow {
  varietyId: string;
  entryId: string;
  trialId: string;
  question: string;
  plantedOn: Day;
}

/** Which trials each variety has stood in, the last planted first. */
export function listVarietyTrials(database: Database): VarietyTrialRow[] {
  return database
    .select({
      varietyId: entry.varietyId,
      entryId: entry.id,
      trialId: trial.id,
      question: trial.question,
      plantedOn: trial.plantedOn,
    })
    .from(entry)
    .innerJoin(trial, eq(trial.id, entry.trialId))
    .orderBy(desc(trial.plantedOn))
    .all();
}
