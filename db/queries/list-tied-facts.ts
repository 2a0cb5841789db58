import { sql } from "drizzle-orm";
import type { Database } from "../open";
import { observation } from "../schema/observation";
import { type FactRow, foldOrder, selectFacts } from "./fact-rows";

/**
 * The facts of one cohort and every fact tied to one of them by correction, however many steps away and whichever plot
 * it names: what a refold of the cohort needs, in fold order.
 */
export function listTiedFacts(database: Database, cohortId: string): FactRow[] {
  const tied = sql`
    WITH RECURSIVE tied (id, replaces) AS (
      SELECT id, replaces FROM observation WHERE cohort_id = ${cohortId}
      UNION
      SELECT later.id, later.replaces
        FROM tied JOIN observation AS later ON later.replaces IN (tied.id, tied.replaces)
      UNION
      SELECT earlier.id, earlier.replaces FROM tied JOIN observation AS earlier ON earlier.id = tied.replaces
    )
    SELECT id FROM tied`;
  return selectFacts(database, sql`${observation.id} IN (${tied})`)
    .orderBy(...foldOrder)
    .all();
}
