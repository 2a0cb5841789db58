import { getTableColumns, type SQL, sql } from "drizzle-orm";
import type { SQLiteTable } from "drizzle-orm/sqlite-core";

/** A row in which every column waits for its value, named as the column is: for an insert that is prepared once. */
export function placeholders<Table extends SQLiteTable>(
  table: Table,
): { [Column in keyof Table["$inferInsert"]]-?: SQL } {
  const names = Object.keys(getTableColumns(table));
  return Object.fromEntries(names.map((name) => [name, sql.placeholder(name)])) as never;
}
