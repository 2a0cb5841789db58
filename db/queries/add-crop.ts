import type { Database } from "../open";
import { crop } from "../schema/garden";

export function addCrop(database: Database, row: typeof crop.$inferInsert): void {
  database.insert(crop).values(row).run();
}
