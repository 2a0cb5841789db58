import { asc, eq } from "drizzle-orm";
import type { Database } from "../open";
import { verdict } from "../schema/trial";

export type VerdictRow = typeof verdict.$inferSelect;

/** The verdicts of one trial, or of every trial, in the order in which they were given. */
export function listVerdicts(database: Database, trialId?: string): VerdictRow[] {
  return database
    .select()
    .from(verdict)
    .where(trialId === undefined ? undefined : eq(verdict.trialId, trialId))
    .orderBy(asc(verdict.decidedAt), asc(verdict.id))
    .all();
}
