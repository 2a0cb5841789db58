import { closeSync, fsyncSync, mkdirSync, openSync, renameSync, rmSync } from "node:fs";
import { dirname } from "node:path";
import { type Database, openReadOnly } from "./open";

/** A file was opened and is not whole: what SQLite says of it. */
export class BrokenFileError extends Error {
  constructor(file: string, faults: string[]) {
    super(`${file} is not whole: ${faults.slice(0, 3).join("; ")}`);
    this.name = "BrokenFileError";
  }
}

/**
 * Opens a file and reads all of it: every page, index and foreign key. Throws when anything is wrong. It takes seconds
 * for some hundred megabytes, so that a running home does it in a worker.
 */
export function verifyFile(file: string): void {
  const database = openReadOnly(file);
  try {
    const pages = database.$client.pragma("integrity_check") as { integrity_check: string }[];
    const dangling = database.$client.pragma("foreign_key_check") as { table: string; rowid: number }[];
    const faults = [
      ...pages.map((row) => row.integrity_check).filter((words) => words !== "ok"),
      ...dangling.map((row) => `${row.table} row ${row.rowid} names something that is not there`),
    ];
    if (faults.length > 0) throw new BrokenFileError(file, faults);
  } finally {
    database.$client.close();
  }
}

/** The name that a copy has until it is verified: only what is whole ever has a copy's own name. */
export function partialName(file: string): string {
  return `${file}.partial`;
}

/** Clears the way for a copy: its folder is there, and nothing of an attempt that was cut off. */
export function readyForCopy(file: string): string {
  mkdirSync(dirname(file), { recursive: true });
  const partial = partialName(file);
  forgetPartial(file);
  return partial;
}

/** Takes away what an attempt left. */
export function forgetPartial(file: string): void {
  for (const end of ["", "-wal", "-shm", "-journal"]) rmSync(partialName(file) + end, { force: true });
}

/** Gives a verified copy its name, once it is on the disk. */
export function putInPlace(file: string): void {
  const partial = partialName(file);
  flush(partial);
  renameSync(partial, file);
  flush(dirname(file));
}

function flush(path: string): void {
  const opened = openSync(path, "r");
  try {
    fsyncSync(opened);
  } finally {
    closeSync(opened);
  }
}

/**
 * Copies an open file by SQLite's online backup, so that whoever reads or writes meanwhile goes on; `verify` then has
 * the copy before it gets its name. A copy that fails leaves nothing behind.
 */
export async function copyOnline(
  database: Database,
  file: string,
  verify: (partial: string) => Promise<void> | void,
): Promise<void> {
  const partial = readyForCopy(file);
  try {
    await database.$client.backup(partial);
    await verify(partial);
    putInPlace(file);
  } finally {
    forgetPartial(file);
  }
}

/**
 * The same in one go, for a file that nobody else uses: before a migration, where nothing may come between the copy and
 * the change.
 */
export function copyAtOnce(database: Database, file: string): void {
  const partial = readyForCopy(file);
  try {
    database.$client.prepare("VACUUM INTO ?").run(partial);
    verifyFile(partial);
    putInPlace(file);
  } finally {
    forgetPartial(file);
  }
}
