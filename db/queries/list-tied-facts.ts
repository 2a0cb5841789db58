import { inArray, type SQL, sql } from "drizzle-orm";
import type { Database } from "../open";
import { prepareOnce } from "../prepare-once";
import { observation } from "../schema/observation";
import { type FactRow, foldOrder, selectFacts } from "./fact-rows";

function factsTiedTo(database: Database, start: SQL) {
  const tied = sql`
    WITH RECURSIVE tied (id, replaces) AS (
      SELECT id, replaces FROM observation WHERE ${start}
      UNION
      SELECT later.id, later.replaces
        FROM tied JOIN observation AS later ON later.replaces IN (tied.id, tied.replaces)
      UNION
      SELECT earlier.id, earlier.replaces FROM tied JOIN observation AS earlier ON earlier.id = tied.replaces
    )
    SELECT id FROM tied`;
  return selectFacts(database, sql`${observation.id} IN (${tied})`).orderBy(...foldOrder);
}

const ofCohort = prepareOnce((database) =>
  factsTiedTo(database, sql`cohort_id = ${sql.placeholder("cohortId")}`).prepare(),
);

/**
 * The facts of one cohort, or those with the given ids, and every fact tied to one of them by correction, however many
 * steps away and whichever plot it names: what is needed to tell which of them are in force. In fold order.
 */
export function listTiedFacts(
  database: Database,
  start: { cohortId: string } | { factIds: string[] },
): FactRow[] {
  if ("cohortId" in start) return ofCohort(database).all(start);
  return factsTiedTo(database, inArray(sql`id`, start.factIds)).all();
}
