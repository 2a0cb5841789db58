import type { Database } from "../open";
import { importedFile } from "../schema/import";

/** Notes that a file was taken in. */
export function addImportedFile(database: Database, row: typeof importedFile.$inferInsert): void {
  database.insert(importedFile).values(row).run();
}
