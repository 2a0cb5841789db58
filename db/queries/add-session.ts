import type { Database } from "../open";
import { session } from "../schema/people";

export function addSession(database: Database, row: typeof session.$inferInsert): void {
  database.insert(session).values(row).run();
}
