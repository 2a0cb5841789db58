import type { Database } from "../open";
import { person } from "../schema/people";

export function addPerson(database: Database, row: typeof person.$inferInsert): void {
  database.insert(person).values(row).run();
}
