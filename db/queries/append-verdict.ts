import type { Database } from "../open";
import { verdict } from "../schema/trial";

export function appendVerdict(database: Database, row: typeof verdict.$inferInsert): void {
  database.insert(verdict).values(row).run();
}
