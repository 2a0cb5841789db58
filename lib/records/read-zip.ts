import { Unzip, UnzipInflate } from "fflate";
import { type Outcome, refusal, success } from "@/lib/words/fault";

/** The most that a zip may hold. */
const limit = { files: 2_000, bytes: 128 * 1024 * 1024 } as const;
/** Little enough that what one piece unpacks to, at most a thousand times as much, is no burden. */
const piece = 8_192;

class ZipRefused extends Error {
  constructor(
    readonly found: string,
    readonly wanted: string,
  ) {
    super(found);
  }
}

/** Whether a file is a zip, by its first letters. */
export function isZip(start: Uint8Array): boolean {
  return start[0] === 0x50 && start[1] === 0x4b && start[2] === 3 && start[3] === 4;
}

/** Names that would lead out of a folder, on any system. */
function leadsOut(name: string): boolean {
  const parts = name.split(/[\\/]/);
  return parts.includes("..") || /^([\\/]|[a-z]:)/i.test(name) || name.includes("\0");
}

/** What the system of the one who packed it put in besides. */
function isLitter(name: string): boolean {
  return name.endsWith("/") || /(^|\/)(__MACOSX|\.DS_Store|Thumbs\.db)(\/|$)/.test(name);
}

/**
 * Unpacks a zip in memory, by what it holds and not by what it says of itself: it ends as soon as more comes out than a
 * trial can have. Refused: names that lead out of a folder, one name twice, what is damaged or locked.
 *
 * @param file its name, for the place of a fault
 * @param wants which files to keep, by their names with folders; the rest is passed over
 * @returns the files' bytes in pieces, by their names with folders
 */
export function readZip(
  bytes: Uint8Array,
  file: string,
  wants: (name: string) => boolean,
): Outcome<Map<string, Uint8Array[]>> {
  const kept = new Map<string, Uint8Array[]>();
  const seen = new Set<string>();
  const open = new Set<string>();
  let unpacked = 0;
  const unzip = new Unzip((entry) => {
    const { name } = entry;
    if (leadsOut(name))
      throw new ZipRefused(`a file named ${name.slice(0, 60)}`, "names within the zip only");
    if (seen.has(name)) throw new ZipRefused(`${name.slice(0, 60)} twice`, "each file once");
    seen.add(name);
    if (seen.size > limit.files) throw new ZipRefused("more files", `at most ${limit.files} files in it`);
    if (isLitter(name) || !wants(name)) return;
    if (entry.compression !== 0 && entry.compression !== 8)
      throw new ZipRefused("a way of packing that is not known", "a zip as any system makes it");
    const pieces: Uint8Array[] = [];
    kept.set(name, pieces);
    open.add(name);
    entry.ondata = (fault, data, isLast) => {
      if (fault) throw fault;
      unpacked += data.length;
      if (unpacked > limit.bytes)
        throw new ZipRefused("more than it says", `at most ${limit.bytes / 1024 / 1024} MB when unpacked`);
      pieces.push(data);
      if (isLast) open.delete(name);
    };
    entry.start();
  });
  unzip.register(UnzipInflate);
  try {
    for (let at = 0; at < bytes.length; at += piece)
      unzip.push(bytes.subarray(at, at + piece), at + piece >= bytes.length);
    if (open.size > 0) throw new Error("it is cut off");
  } catch (fault) {
    const [found, wanted] =
      fault instanceof ZipRefused
        ? [fault.found, fault.wanted]
        : ["a zip that is damaged", "a zip that can be unpacked whole"];
    return refusal([{ place: `${file}:1:1`, found, wanted }]);
  }
  return success(kept);
}
