import { asc, eq } from "drizzle-orm";
import type { Database } from "../open";
import { takenUp } from "../schema/trial";

/** What stands in the way in a trial's beds. */
export function listTakenUp(database: Database, trialId: string): (typeof takenUp.$inferSelect)[] {
  return database
    .select()
    .from(takenUp)
    .where(eq(takenUp.trialId, trialId))
    .orderBy(asc(takenUp.bedId), asc(takenUp.fromMm))
    .all();
}
