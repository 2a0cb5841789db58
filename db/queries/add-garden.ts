import type { Database } from "../open";
import { garden } from "../schema/garden";

export function addGarden(database: Database, row: typeof garden.$inferInsert): void {
  database.insert(garden).values(row).run();
}
