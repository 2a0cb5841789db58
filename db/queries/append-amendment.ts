import type { Database } from "../open";
import { amendment } from "../schema/trial";

export function appendAmendment(database: Database, row: typeof amendment.$inferInsert): void {
  database.insert(amendment).values(row).run();
}
