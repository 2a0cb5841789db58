import type { Database } from "../open";
import { variety } from "../schema/garden";

export function addVariety(database: Database, row: typeof variety.$inferInsert): void {
  database.insert(variety).values(row).run();
}
