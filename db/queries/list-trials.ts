import type { Database } from "../open";
import { selectTrials, type TrialRow } from "./trial-rows";

/** All trials, the last planted first. */
export function listTrials(database: Database): TrialRow[] {
  return selectTrials(database, undefined);
}
