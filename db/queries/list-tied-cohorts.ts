import { inArray, or } from "drizzle-orm";
import type { Database } from "../open";
import { observation } from "../schema/observation";

/** The cohorts of the facts with these ids and of those that replace one of these ids. */
export function listTiedCohorts(database: Database, ids: string[]): string[] {
  return database
    .selectDistinct({ cohortId: observation.cohortId })
    .from(observation)
    .where(or(inArray(observation.id, ids), inArray(observation.replaces, ids)))
    .all()
    .map((row) => row.cohortId);
}
