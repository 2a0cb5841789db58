import type { Database } from "../open";
import { columnMapping } from "../schema/import";

/** Puts down what was said of a file's columns, over what was said before. */
export function putColumnMapping(database: Database, row: typeof columnMapping.$inferInsert): void {
  const { mapping, usedAt } = row;
  database
    .insert(columnMapping)
    .values(row)
    .onConflictDoUpdate({
      target: [columnMapping.kind, columnMapping.signature],
      set: { mapping, usedAt },
    })
    .run();
}
