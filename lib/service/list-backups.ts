import { readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import type { Instant } from "@/lib/words/instant";
import { backupFolder, madeAtOf } from "./backup-names";
import type { House } from "./house";

export interface BackupLine {
  name: string;
  madeAt: Instant;
  bytes: number;
}

/** The copies of the garden, newest first. Each was verified before it got its name, so the first is the last good one. */
export function listBackups({ dataFolder }: Pick<House, "dataFolder">): BackupLine[] {
  const folder = backupFolder(dataFolder);
  let names: string[];
  try {
    names = readdirSync(folder);
  } catch (fault) {
    if ((fault as NodeJS.ErrnoException).code === "ENOENT") return [];
    throw fault;
  }
  return names
    .flatMap((name) => {
      const madeAt = madeAtOf(name);
      const found = madeAt && statSync(join(folder, name), { throwIfNoEntry: false });
      return found ? [{ name, madeAt, bytes: found.size }] : [];
    })
    .sort((one, other) => (one.madeAt < other.madeAt ? 1 : -1));
}
