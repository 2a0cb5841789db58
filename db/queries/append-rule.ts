import type { Database } from "../open";
import { rule } from "../schema/trial";

export function appendRule(database: Database, row: typeof rule.$inferInsert): void {
  database.insert(rule).values(row).run();
}
