import {
  closeSync,
  existsSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  readSync,
  rmSync,
  statSync,
  writeFileSync,
  writeSync,
} from "node:fs";
import { join } from "node:path";
import type { SourceFile } from "@/lib/records/open-table";
import { type Outcome, refusal, success } from "@/lib/words/fault";
import type { House } from "./house";

/** A file that was sent to be looked at, and lies beside the garden's file until it is taken in or given up. */
export interface StagedFile {
  name: string;
  path: string;
  bytes: number;
}

/** The most that is taken of one set of files. */
export const importLimit = { bytes: 64 * 1024 * 1024, files: 20 } as const;

const setName = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;
const oneDayMs = 86_400_000;
const pieceBytes = 65_536;

function folderOf(house: House): string {
  return join(house.dataFolder, "imports");
}

/** A name as it is shown: without folders and without what no name has. */
function plainName(name: string): string {
  const last = name.split(/[\\/]/).at(-1) ?? "";
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is taken off
  return last.replace(/[\u0000-\u001f\u007f]/g, "").slice(0, 200) || "file";
}

/** The files of a set in the order in which they came; none for a set that is not there. */
export function stagedFiles(house: House, set: string): StagedFile[] {
  const folder = join(folderOf(house), set);
  if (!setName.test(set) || !existsSync(folder)) return [];
  return readdirSync(folder)
    .filter((name) => name.endsWith(".name"))
    .sort()
    .map((name) => {
      const path = join(folder, name.replace(/\.name$/, ".bytes"));
      return { name: readFileSync(join(folder, name), "utf8"), path, bytes: statSync(path).size };
    });
}

/** Takes away what lies there longer than a day: sets that nobody came back to. */
function sweep(house: House): void {
  const folder = folderOf(house);
  if (!existsSync(folder)) return;
  for (const name of readdirSync(folder)) {
    const path = join(folder, name);
    const age = Date.parse(house.now()) - statSync(path).mtimeMs;
    if (age > oneDayMs) rmSync(path, { recursive: true, force: true });
  }
}

/** Takes a set away once it was taken in or given up. */
export function dropStaged(house: House, set: string): void {
  if (setName.test(set)) rmSync(join(folderOf(house), set), { recursive: true, force: true });
}

/**
 * Writes a file that is being sent to the disk, piece by piece. Refused, and taken away again, when it is more than may be
 * taken in at once.
 *
 * @param set the set that it joins; null begins one
 */
export async function stageFile(
  house: House,
  { set, name, stream }: { set: string | null; name: string; stream: ReadableStream<Uint8Array> | null },
): Promise<Outcome<{ set: string; bytes: number }>> {
  sweep(house);
  const id = set ?? house.newId();
  const before = stagedFiles(house, id);
  if (!setName.test(id) || (set !== null && before.length === 0))
    return refusal([
      { place: "file", found: "files that are no longer here", wanted: "the files, chosen again" },
    ]);
  if (before.length >= importLimit.files)
    return refusal([
      { place: "file", found: `${before.length + 1} files`, wanted: `at most ${importLimit.files} at once` },
    ]);
  const folder = join(folderOf(house), id);
  mkdirSync(folder, { recursive: true });
  const stem = join(folder, String(before.length).padStart(3, "0"));
  const room = importLimit.bytes - before.reduce((sum, file) => sum + file.bytes, 0);
  const file = openSync(`${stem}.bytes`, "w");
  let bytes = 0;
  try {
    if (stream)
      for await (const piece of stream as unknown as AsyncIterable<Uint8Array>) {
        bytes += piece.length;
        if (bytes > room) break;
        writeSync(file, piece);
      }
  } finally {
    closeSync(file);
  }
  if (bytes > room) {
    rmSync(`${stem}.bytes`, { force: true });
    const found = `more than ${importLimit.bytes / 1024 / 1024} MB`;
    return refusal([{ place: "file", found, wanted: "less at once: part the file in two" }]);
  }
  writeFileSync(`${stem}.name`, plainName(name));
  return success({ set: id, bytes });
}

/** A staged file as a source to read, from the disk each time. `onRead` hears how many bytes were read. */
export function sourceOf({ name, path }: StagedFile, onRead?: (bytes: number) => void): SourceFile {
  return {
    name,
    *chunks() {
      const file = openSync(path, "r");
      try {
        for (;;) {
          const piece = new Uint8Array(pieceBytes);
          const count = readSync(file, piece);
          if (count === 0) return;
          onRead?.(count);
          yield piece.subarray(0, count);
        }
      } finally {
        closeSync(file);
      }
    },
  };
}
