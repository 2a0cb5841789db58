import type { Database } from "../open";
import { prepareOnce } from "../prepare-once";

const query = prepareOnce((database) =>
  database.$client
    .prepare<[string], string>(
      `WITH RECURSIVE tied (id, replaces, cohort_id) AS (
         SELECT id, replaces, cohort_id FROM observation WHERE id = ?
         UNION
         SELECT later.id, later.replaces, later.cohort_id
           FROM tied JOIN observation AS later ON later.replaces IN (tied.id, tied.replaces)
         UNION
         SELECT earlier.id, earlier.replaces, earlier.cohort_id
           FROM tied JOIN observation AS earlier ON earlier.id = tied.replaces
       )
       SELECT DISTINCT cohort_id FROM tied ORDER BY cohort_id`,
    )
    .pluck(),
);

/**
 * The cohorts whose fold a fact may change: its own, and those of every fact tied to it by correction, however many
 * steps away. Two corrections of the same fact are tied even when that fact itself has not come home yet.
 */
export function listTiedCohorts(database: Database, factId: string): string[] {
  return query(database).all(factId);
}
