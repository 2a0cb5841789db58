import type { Database } from "../open";
import { prepareOnce } from "../prepare-once";

const query = prepareOnce((database) =>
  database.$client.prepare<{ id: string }, { bodyHash: string }>(
    `SELECT body_hash AS bodyHash FROM observation WHERE id = :id
     UNION ALL SELECT body_hash FROM bed_observation WHERE id = :id`,
  ),
);

/** The hash of the fact under an id, of a plot or of a bed, or null when the id is new. */
export function findFactHash(database: Database, id: string): { bodyHash: string } | null {
  return query(database).get({ id }) ?? null;
}
