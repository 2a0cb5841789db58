import type { Database } from "../open";
import { pairing } from "../schema/people";

export function addPairing(database: Database, row: typeof pairing.$inferInsert): void {
  database.insert(pairing).values(row).run();
}
