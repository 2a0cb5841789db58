import type { Database } from "../open";
import { cover } from "../schema/garden";

export function addCover(database: Database, row: typeof cover.$inferInsert): void {
  database.insert(cover).values(row).run();
}
