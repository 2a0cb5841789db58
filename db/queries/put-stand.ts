import type { Database } from "../open";
import { stand } from "../schema/observation";

export type StandRow = typeof stand.$inferSelect;

/** Writes a cohort's derived stand, over the one that was there. */
export function putStand(database: Database, row: StandRow): void {
  const { cohortId, ...derived } = row;
  database.insert(stand).values(row).onConflictDoUpdate({ target: stand.cohortId, set: derived }).run();
}
