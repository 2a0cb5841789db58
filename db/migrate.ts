import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { migrate } from "drizzle-orm/better-sqlite3/migrator";
import { copyAtOnce } from "./copy-file";
import { closeDatabase, type Database, openDatabase, openReadOnly } from "./open";

const shippedMigrations = fileURLToPath(new URL("./migrations", import.meta.url));

interface Journal {
  entries: { when: number; tag: string }[];
}

/** How a garden file stands to the migrations that this program knows. */
export type FileAge = "absent" | "older" | "current" | "newer";

/** The garden file is from a later version of the program: it was left alone. */
export class NewerDatabaseError extends Error {
  constructor(file: string) {
    super(`${file} was written by a newer version of Proving Bed; use that version or a newer one`);
    this.name = "NewerDatabaseError";
  }
}

/** The file is not a garden that this program can read: damaged, or something else under its name. */
export class UnreadableDatabaseError extends Error {
  constructor(file: string, cause: unknown) {
    super(`${file} cannot be read as a garden file (${cause instanceof Error ? cause.message : cause})`, {
      cause,
    });
    this.name = "UnreadableDatabaseError";
  }
}

function latestKnown(folder: string): number {
  const journal: Journal = JSON.parse(readFileSync(join(folder, "meta", "_journal.json"), "utf8"));
  return Math.max(...journal.entries.map((entry) => entry.when));
}

function latestApplied(database: Database): number | null {
  const table = database.$client
    .prepare("SELECT 1 FROM sqlite_master WHERE name = '__drizzle_migrations'")
    .get();
  if (!table) return null;
  const row = database.$client
    .prepare<[], { latest: number | null }>("SELECT max(created_at) AS latest FROM __drizzle_migrations")
    .get();
  return row?.latest ?? null;
}

/** Compares a garden file with the known migrations without writing a byte to it. */
export function ageOfFile(file: string, folder = shippedMigrations): FileAge {
  if (!existsSync(file)) return "absent";
  try {
    const database = openReadOnly(file);
    try {
      const applied = latestApplied(database);
      const known = latestKnown(folder);
      if (applied === null || applied < known) return "older";
      return applied > known ? "newer" : "current";
    } finally {
      database.$client.close();
    }
  } catch (cause) {
    throw new UnreadableDatabaseError(file, cause);
  }
}

/**
 * Opens the garden's file, brought up to the newest migration. A file that is to be changed is copied first to
 * `backups/` beside it and the copy verified; all migrations run in one transaction, so a failure leaves the file as it was. Throws
 * `NewerDatabaseError` for a file from a newer version, which stays untouched.
 *
 * @param stamp names the backup, made of letters, digits and dashes; the day and time, say.
 * @returns the open database, and the backup's path when one was made.
 */
export function openMigrated(
  file: string,
  stamp: string,
  folder = shippedMigrations,
): { database: Database; backup: string | null } {
  const age = ageOfFile(file, folder);
  if (age === "newer") throw new NewerDatabaseError(file);
  const database = openDatabase(file);
  try {
    let backup: string | null = null;
    const used = database.$client.prepare("SELECT 1 FROM sqlite_master LIMIT 1").get() !== undefined;
    if (age === "older" && used) {
      backup = join(file, "..", "backups", `before-update-${stamp}.sqlite`);
      copyAtOnce(database, backup);
    }
    if (age !== "current") migrate(database, { migrationsFolder: folder });
    return { database, backup };
  } catch (fault) {
    closeDatabase(database);
    throw fault;
  }
}
