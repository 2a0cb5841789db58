import { createReadStream, statSync } from "node:fs";
import { join } from "node:path";
import { Readable } from "node:stream";
import { backupFolder, madeAtOf } from "./backup-names";
import type { House } from "./house";

/**
 * A backup as bytes to hand out, read as they are wanted. Null when there is none of that name; a name that is not of a
 * backup's form reaches no file.
 */
export function openCopy(house: House, name: string): { bytes: number; stream: ReadableStream } | null {
  if (madeAtOf(name) === null) return null;
  const path = join(backupFolder(house.dataFolder), name);
  const found = statSync(path, { throwIfNoEntry: false });
  if (!found) return null;
  return { bytes: found.size, stream: Readable.toWeb(createReadStream(path)) as ReadableStream };
}
