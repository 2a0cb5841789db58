import type { Database } from "../open";
import { observation } from "../schema/observation";

/** Writes one fact down. There is no way to change or take one away: a correction is another fact. */
export function appendObservation(
  database: Database,
  row: Omit<typeof observation.$inferInsert, "seq">,
): void {
  database.insert(observation).values(row).run();
}
