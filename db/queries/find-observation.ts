import { eq, sql } from "drizzle-orm";
import type { Database } from "../open";
import { prepareOnce } from "../prepare-once";
import { observation } from "../schema/observation";

const query = prepareOnce((database) =>
  database
    .select({ bodyHash: observation.bodyHash })
    .from(observation)
    .where(eq(observation.id, sql.placeholder("id")))
    .prepare(),
);

/** The hash of the fact under an id, or null when the id is new. */
export function findObservation(database: Database, id: string): { bodyHash: string } | null {
  return query(database).get({ id }) ?? null;
}
