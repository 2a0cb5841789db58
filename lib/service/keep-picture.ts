import { createHash } from "node:crypto";
import { closeSync, existsSync, fsyncSync, mkdirSync, openSync, renameSync, writeSync } from "node:fs";
import { inOneAct } from "@/db/open";
import { appendPicture } from "@/db/queries/append-picture";
import { findPicture } from "@/db/queries/find-picture";
import { type Outcome, quoteFound, refusal, success } from "@/lib/words/fault";
import { mostPictureBytes, pictureName, pictureTypeOf } from "@/lib/words/picture";
import type { House } from "./house";
import { pictureFile, pictureFolder } from "./picture-file";

/** Puts the folder's own entry on the disk: without it a file that was written may have no name after a power cut. */
function syncFolder(folder: string): void {
  const handle = openSync(folder, "r");
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}

function writeWhole(folder: string, file: string, bytes: Uint8Array, newId: string): void {
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  const unfinished = `${file}.${newId}.part`;
  const handle = openSync(unfinished, "wx", 0o600);
  try {
    for (let at = 0; at < bytes.length; ) at += writeSync(handle, bytes, at);
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
  renameSync(unfinished, file);
  syncFolder(folder);
}

/**
 * Keeps a picture under its own hash: a file beside the garden's, on the disk before its row says that it is there.
 * Sending it again changes nothing. What is no picture, is too large, or is not what its name says is refused.
 */
export function keepPicture(
  house: House,
  sha256: string,
  bytes: Uint8Array,
): Outcome<{ answer: "recorded" | "already" }> {
  const fault = (found: string, wanted: string) => refusal([{ place: "picture", found, wanted }]);
  if (!pictureName.safeParse(sha256).success)
    return fault(quoteFound(sha256), "a name that is the picture's SHA-256");
  if (bytes.length === 0 || bytes.length > mostPictureBytes)
    return fault(`${bytes.length} bytes`, `1 to ${mostPictureBytes} bytes`);
  const hash = createHash("sha256").update(bytes).digest("hex");
  if (hash !== sha256)
    return fault(`bytes with the hash ${hash.slice(0, 12)}…`, "the bytes that its name says");
  const mediaType = pictureTypeOf(bytes);
  if (mediaType === null) return fault("bytes of another sort", "a JPEG, PNG or WebP picture");
  const file = pictureFile(house.dataFolder, sha256, mediaType);
  const known = findPicture(house.database, sha256) !== null;
  if (known && existsSync(file)) return success({ answer: "already" });
  writeWhole(pictureFolder(house.dataFolder), file, bytes, house.newId());
  if (!known)
    inOneAct(house.database, () => {
      if (findPicture(house.database, sha256) === null)
        appendPicture(house.database, { sha256, mediaType, bytes: bytes.length, receivedAt: house.now() });
    });
  return success({ answer: "recorded" });
}
