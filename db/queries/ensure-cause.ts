import type { Database } from "../open";
import { cause } from "../schema/observation";

/** Makes one of the grower's own causes known; a cause that is known already is left as it is. */
export function ensureCause(database: Database, row: typeof cause.$inferInsert): void {
  database.insert(cause).values(row).onConflictDoNothing().run();
}
