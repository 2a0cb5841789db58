import type { Database } from "../open";
import { prepareOnce } from "../prepare-once";

const query = prepareOnce((database) =>
  database.$client.prepare<{ id: string }, { kind: string; cause: string | null }>(
    `SELECT kind, cause FROM observation WHERE id = :id
     UNION ALL SELECT kind, NULL FROM bed_observation WHERE id = :id`,
  ),
);

/** What sort of fact an id names, of a plot or of a bed; null when the id is new. */
export function findFactKind(database: Database, id: string): { kind: string; cause: string | null } | null {
  return query(database).get({ id }) ?? null;
}
