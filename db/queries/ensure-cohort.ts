import type { Database } from "../open";
import { prepareOnce } from "../prepare-once";
import { cohort } from "../schema/observation";
import { placeholders } from "./placeholders";

const statement = prepareOnce((database) =>
  database.insert(cohort).values(placeholders(cohort)).onConflictDoNothing().prepare(),
);

/** Makes a cohort known; one that is known already keeps its count of plants. */
export function ensureCohort(database: Database, row: typeof cohort.$inferInsert): void {
  statement(database).run(row);
}
