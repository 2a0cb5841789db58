import { eq, sql } from "drizzle-orm";
import type { Database } from "../open";
import { prepareOnce } from "../prepare-once";
import { cohort } from "../schema/observation";

export type CohortRow = typeof cohort.$inferSelect;

const query = prepareOnce((database) =>
  database
    .select()
    .from(cohort)
    .where(eq(cohort.id, sql.placeholder("cohortId")))
    .prepare(),
);

/** A cohort that is known to be there; throws when it is not. */
export function getCohort(database: Database, cohortId: string): CohortRow {
  const row = query(database).get({ cohortId });
  if (!row) throw new Error(`getCohort requires a cohort that is there; got ${cohortId}`);
  return row;
}
