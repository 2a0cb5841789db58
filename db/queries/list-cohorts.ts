import { asc } from "drizzle-orm";
import type { Database } from "../open";
import { cohort } from "../schema/observation";

/** Every cohort of the garden, for the check that recomputes their stands. */
export function listCohorts(database: Database): (typeof cohort.$inferSelect)[] {
  return database.select().from(cohort).orderBy(asc(cohort.id)).all();
}
