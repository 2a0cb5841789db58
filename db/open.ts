import { existsSync } from "node:fs";
import Sqlite from "better-sqlite3";
import { type BetterSQLite3Database, drizzle } from "drizzle-orm/better-sqlite3";

/** The garden's file, open. `$client` is the bare connection, for what drizzle has no words for. */
export type Database = BetterSQLite3Database & { $client: Sqlite.Database };

/**
 * Opens the garden's file, making it when it is not there. The only opener: SQLite's own defaults do not keep the
 * promise that a fact acknowledged is a fact on disk. A WAL file opens with `synchronous` NORMAL, foreign keys are off,
 * and `INSERT OR REPLACE` slips past delete triggers unless triggers recurse.
 */
export function openDatabase(file: string): Database {
  const connection = new Sqlite(file);
  connection.pragma("journal_mode = WAL");
  connection.pragma("synchronous = FULL");
  connection.pragma("foreign_keys = ON");
  connection.pragma("recursive_triggers = ON");
  connection.pragma("busy_timeout = 5000");
  return drizzle({ client: connection });
}

/**
 * Opens a file to look at it only: its journal mode and its bytes stay as they are, and nothing is left beside it. A
 * connection opened as read only leaves an empty log behind, since it may not take it away; so it is opened that way
 * only where a log is there already. Throws when the file is not there.
 */
export function openReadOnly(file: string): Database {
  const connection = new Sqlite(file, { readonly: existsSync(`${file}-wal`), fileMustExist: true });
  connection.pragma("query_only = ON");
  return drizzle({ client: connection });
}

/** Writes the log back into the file and closes it, so that the one file is the whole garden. */
export function closeDatabase(database: Database): void {
  database.$client.pragma("wal_checkpoint(TRUNCATE)");
  database.$client.close();
}

/**
 * Runs reads and writes as one act: all or nothing, and no other writer in between. Immediate, since SQLite's default
 * lets a second writer in between the reading and the writing. The work cannot wait for anything.
 */
export function inOneAct<Result>(database: Database, work: () => Result): Result {
  try {
    return database.$client.transaction(work).immediate();
  } catch (fault) {
    undone.set(database, undoneActs(database) + 1);
    throw fault;
  }
}

const undone = new WeakMap<Database, number>();

/** How many acts came to nothing: what was read within one of them may not be what the file holds. */
export function undoneActs(database: Database): number {
  return undone.get(database) ?? 0;
}
