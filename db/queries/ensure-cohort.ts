import type { Database } from "../open";
import { cohort } from "../schema/observation";

/** Makes a cohort known; one that is known already keeps its count of plants. */
export function ensureCohort(database: Database, row: typeof cohort.$inferInsert): void {
  database.insert(cohort).values(row).onConflictDoNothing().run();
}
