import type { Database } from "../open";
import { germinationTest } from "../schema/trial";

export function appendGerminationTest(database: Database, row: typeof germinationTest.$inferInsert): void {
  database.insert(germinationTest).values(row).run();
}
