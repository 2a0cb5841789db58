import { asc, eq } from "drizzle-orm";
import type { Database } from "../open";
import { rule } from "../schema/trial";

export type RuleRow = typeof rule.$inferSelect;

/** Every version of a trial's decision rule, the first first. */
export function listRules(database: Database, trialId: string): RuleRow[] {
  return database.select().from(rule).where(eq(rule.trialId, trialId)).orderBy(asc(rule.version)).all();
}
