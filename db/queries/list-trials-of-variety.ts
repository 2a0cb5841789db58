import { eq, inArray } from "drizzle-orm";
import type { Database } from "../open";
import { entry, trial } from "../schema/trial";
import { selectTrials, type TrialRow } from "./trial-rows";

/** The trials that a variety was entered in, the last planted first. */
export function listTrialsOfVariety(database: Database, varietyId: string): TrialRow[] {
  const own = database.select({ id: entry.trialId }).from(entry).where(eq(entry.varietyId, varietyId));
  return selectTrials(database, inArray(trial.id, own));
}
