import { asc, eq } from "drizzle-orm";
import type { Database } from "../open";
import { amendment } from "../schema/trial";

export type AmendmentRow = typeof amendment.$inferSelect;

/** What was changed after a trial began, in the order in which it was written down. */
export function listAmendments(database: Database, trialId: string): AmendmentRow[] {
  return database
    .select()
    .from(amendment)
    .where(eq(amendment.trialId, trialId))
    .orderBy(asc(amendment.madeAt), asc(amendment.id))
    .all();
}
