import { eq } from "drizzle-orm";
import type { Database } from "../open";
import { cohort } from "../schema/observation";

export type CohortRow = typeof cohort.$inferSelect;

/** A cohort that is known to be there; throws when it is not. */
export function getCohort(database: Database, cohortId: string): CohortRow {
  const row = database.select().from(cohort).where(eq(cohort.id, cohortId)).get();
  if (!row) throw new Error(`getCohort requires a cohort that is there; got ${cohortId}`);
  return row;
}
