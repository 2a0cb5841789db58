import type { SourceFile } from "@/lib/records/open-table";
import { isZip, readZip } from "@/lib/records/read-zip";
import type { FaultList } from "./fault-list";

/** A file whole; only for what must be seen whole, a zip or a picture. */
export function wholeBytes(file: SourceFile): Uint8Array {
  const pieces = [...file.chunks()];
  const bytes = new Uint8Array(pieces.reduce((sum, piece) => sum + piece.length, 0));
  let at = 0;
  for (const piece of pieces) {
    bytes.set(piece, at);
    at += piece.length;
  }
  return bytes;
}

/**
 * The files themselves, or those in the zip that was chosen, without their folders. What is wrong with the zip is told,
 * and nothing of it is given then.
 *
 * @param wants which files of a zip to unpack, by their names with folders
 */
export function unpackFiles(
  files: readonly SourceFile[],
  faults: FaultList,
  wants: (name: string) => boolean,
): SourceFile[] {
  const [file] = files;
  const first = file?.chunks()[Symbol.iterator]().next();
  if (files.length !== 1 || first?.done !== false || !isZip(first.value)) return [...files];
  const read = readZip(wholeBytes(file), file.name, wants);
  if (!read.ok) {
    faults.add(read.faults);
    return [];
  }
  return [...read.value].map(([name, chunks]) => ({
    name: name.split("/").at(-1) ?? name,
    chunks: () => chunks,
  }));
}
