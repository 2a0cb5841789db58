import Sqlite from "better-sqlite3";

/**
 * Takes a lock that only one process on this machine can hold, and that the system frees when the process ends in
 * whatever way: an exclusive transaction on a tiny file of its own. The holder must not open that file by other means:
 * under POSIX closing it again would give the lock back.
 *
 * @returns what gives the lock back, or null when another process holds it.
 */
export function takeLock(file: string): (() => void) | null {
  const connection = new Sqlite(file, { timeout: 0 });
  try {
    // Nothing is ever written to it, so there is nothing to undo and no journal to leave behind.
    connection.pragma("journal_mode = MEMORY");
    connection.exec("BEGIN EXCLUSIVE");
  } catch (fault) {
    connection.close();
    if (fault instanceof Sqlite.SqliteError && fault.code.startsWith("SQLITE_BUSY")) return null;
    throw fault;
  }
  return () => connection.close();
}
