import { copyFileSync, existsSync, rmSync } from "node:fs";
import { forgetPartial, partialName, putInPlace, readyForCopy, verifyFile } from "./copy-file";
import { ageOfFile, NewerDatabaseError, UnreadableDatabaseError } from "./migrate";
import { closeDatabase, openDatabase, openReadOnly } from "./open";

/** Puts the log back into the file; a file too damaged for that is left as it is. */
function settle(file: string): void {
  try {
    closeDatabase(openDatabase(file));
  } catch {
    // It is copied aside with its log, as it stands.
  }
}

/**
 * Reads a copy through and says by throwing why it cannot be put back: it is from a newer version (`NewerDatabaseError`),
 * is not whole (`BrokenFileError`), or is no garden's file (`UnreadableDatabaseError`). Nothing of it is changed.
 */
export function checkCopy(copy: string): void {
  if (ageOfFile(copy) === "newer") throw new NewerDatabaseError(copy);
  verifyFile(copy);
  refuseStranger(copy, copy);
}

/**
 * Puts a copy in the place of the garden's file. The copy is taken over to the same folder, verified there and refused
 * when it is not whole, is no garden file or is from a newer version (`NewerDatabaseError`); the present file is copied
 * to `aside` first. Nothing else may have the garden's file open: the caller holds the lock.
 *
 * @returns whether there was a present file to keep aside
 */
export async function restoreFile(copy: string, file: string, aside: string): Promise<boolean> {
  const age = ageOfFile(copy);
  if (age === "newer") throw new NewerDatabaseError(copy);
  const partial = readyForCopy(file);
  try {
    const source = openReadOnly(copy);
    try {
      await source.$client.backup(partial);
    } finally {
      source.$client.close();
    }
    verifyFile(partial);
    refuseStranger(partial, copy);
    const isPresent = existsSync(file);
    if (isPresent) keepAside(file, aside);
    for (const end of ["-wal", "-shm"]) rmSync(file + end, { force: true });
    putInPlace(file);
    return isPresent;
  } finally {
    forgetPartial(file);
  }
}

function refuseStranger(partial: string, copy: string): void {
  const database = openReadOnly(partial);
  try {
    const tables = database.$client
      .prepare("SELECT count(*) FROM sqlite_master WHERE name IN ('garden', 'trial', '__drizzle_migrations')")
      .pluck()
      .get();
    if (tables !== 3) throw new UnreadableDatabaseError(copy, "it holds no garden");
  } finally {
    database.$client.close();
  }
}

function keepAside(file: string, aside: string): void {
  settle(file);
  readyForCopy(aside);
  for (const end of ["-wal", "-shm"]) if (existsSync(file + end)) copyFileSync(file + end, aside + end);
  copyFileSync(file, partialName(aside));
  putInPlace(aside);
}
