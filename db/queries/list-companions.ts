import { asc, eq } from "drizzle-orm";
import type { Database } from "../open";
import { companion } from "../schema/trial";

/** The crops that stand between the plants of a trial. */
export function listCompanions(database: Database, trialId: string): (typeof companion.$inferSelect)[] {
  return database
    .select()
    .from(companion)
    .where(eq(companion.trialId, trialId))
    .orderBy(asc(companion.name))
    .all();
}
