import { asc, eq } from "drizzle-orm";
import type { Database } from "../open";
import { germinationTest } from "../schema/trial";

export type GerminationTestRow = typeof germinationTest.$inferSelect;

/** Germination tests of a trial's packets, in the order in which they were written down: of each the last is in force. */
export function listGerminationTests(database: Database, trialId: string): GerminationTestRow[] {
  return database
    .select()
    .from(germinationTest)
    .where(eq(germinationTest.trialId, trialId))
    .orderBy(asc(germinationTest.madeAt), asc(germinationTest.id))
    .all();
}
