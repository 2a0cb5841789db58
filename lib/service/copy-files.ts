import {
  closeSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readdirSync,
  rmSync,
  statSync,
  writeSync,
} from "node:fs";
import { join } from "node:path";
import { type Outcome, refusal, success } from "@/lib/words/fault";
import { backupFolder } from "./backup-names";
import type { House } from "./house";

/** The first sixteen bytes of every file of SQLite's. */
const beginning = "SQLite format 3\0";
const oneDayMs = 86_400_000;
const inBackups = /^(garden|before-update|before-restore)-[0-9A-Za-z-]{8,40}\.sqlite$/;
const uploaded = /^uploaded-[0-9a-f-]{36}\.sqlite$/;

type Place = Pick<House, "dataFolder">;

/** Where files lie that were sent to be put back, until they are or a day is over. */
function uploadFolder({ dataFolder }: Place): string {
  return join(dataFolder, "restore");
}

/** Where a copy lies, by its name: a backup, a file kept aside, or one that was sent. Null for any other name. */
export function copyPath(house: Place, name: string): string | null {
  const folder = inBackups.test(name)
    ? backupFolder(house.dataFolder)
    : uploaded.test(name)
      ? uploadFolder(house)
      : null;
  const path = folder && join(folder, name);
  return path && existsSync(path) ? path : null;
}

/** Takes away the files that were sent to be put back; those of the last day stay where an age is said. */
export function forgetUploads(house: Place, olderThan?: number): void {
  const folder = uploadFolder(house);
  if (!existsSync(folder)) return;
  for (const name of readdirSync(folder)) {
    const path = join(folder, name);
    if (olderThan === undefined || statSync(path).mtimeMs < olderThan) rmSync(path, { force: true });
  }
}

/**
 * Writes a file that is being sent to the disk, piece by piece, to be looked at. Refused, and taken away again, when its
 * first bytes are not those of a garden's file or the sending breaks off.
 */
export async function takeCopy(
  house: House,
  stream: ReadableStream<Uint8Array> | null,
): Promise<Outcome<{ name: string }>> {
  forgetUploads(house, Date.parse(house.now()) - oneDayMs);
  mkdirSync(uploadFolder(house), { recursive: true });
  const name = `uploaded-${house.newId()}.sqlite`;
  const path = join(uploadFolder(house), name);
  const file = openSync(path, "wx", 0o600);
  let head = "";
  let isWhole = false;
  try {
    if (stream)
      for await (const piece of stream as unknown as AsyncIterable<Uint8Array>) {
        if (head.length < beginning.length) head += Buffer.from(piece.subarray(0, 16)).toString("latin1");
        if (!head.slice(0, 16).startsWith(beginning.slice(0, head.length))) break;
        for (let at = 0; at < piece.length; ) at += writeSync(file, piece, at);
      }
    fsyncSync(file);
    isWhole = head.startsWith(beginning);
  } finally {
    closeSync(file);
    if (!isWhole) rmSync(path, { force: true });
  }
  if (isWhole) return success({ name });
  return refusal([
    { place: "file", found: "a file of another kind", wanted: "a garden’s file, as it was downloaded here" },
  ]);
}
