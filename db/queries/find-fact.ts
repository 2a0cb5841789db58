import { eq, sql } from "drizzle-orm";
import type { Database } from "../open";
import { prepareOnce } from "../prepare-once";
import { observation } from "../schema/observation";
import { type FactRow, selectFacts } from "./fact-rows";

const query = prepareOnce((database) =>
  selectFacts(database, eq(observation.id, sql.placeholder("id"))).prepare(),
);

/** The fact under an id, or null when the id is new. */
export function findFact(database: Database, id: string): FactRow | null {
  return query(database).get({ id }) ?? null;
}
