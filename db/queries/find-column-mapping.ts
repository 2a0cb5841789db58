import { and, eq } from "drizzle-orm";
import type { Database } from "../open";
import { columnMapping, type ImportKind } from "../schema/import";

/** What was last said of the columns of such a file, as it was put down; null when no such file was taken in. */
export function findColumnMapping(database: Database, kind: ImportKind, signature: string): unknown {
  const row = database
    .select({ mapping: columnMapping.mapping })
    .from(columnMapping)
    .where(and(eq(columnMapping.kind, kind), eq(columnMapping.signature, signature)))
    .get();
  return row?.mapping ?? null;
}
