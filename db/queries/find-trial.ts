import { eq } from "drizzle-orm";
import type { Database } from "../open";
import { trial } from "../schema/trial";
import { selectTrials, type TrialRow } from "./trial-rows";

export function findTrial(database: Database, trialId: string): TrialRow | null {
  return selectTrials(database, eq(trial.id, trialId))[0] ?? null;
}
