import type { Database } from "../open";
import { bed } from "../schema/garden";

export function addBed(database: Database, row: typeof bed.$inferInsert): void {
  database.insert(bed).values(row).run();
}
