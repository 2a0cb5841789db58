import { readFileSync } from "node:fs";
import { findPicture } from "@/db/queries/find-picture";
import { type PictureType, pictureName } from "@/lib/words/picture";
import type { House } from "./house";
import { pictureFile } from "./picture-file";

/** A picture that has come home, as it came; null when there is none of that name. */
export function readPicture(
  house: House,
  sha256: string,
): { mediaType: PictureType; bytes: Uint8Array<ArrayBuffer> } | null {
  if (!pictureName.safeParse(sha256).success) return null;
  const kept = findPicture(house.database, sha256);
  if (kept === null) return null;
  const { mediaType } = kept;
  try {
    return {
      mediaType,
      bytes: new Uint8Array(readFileSync(pictureFile(house.dataFolder, sha256, mediaType))),
    };
  } catch (fault) {
    // Its row came back from a backup without its file; the phone may still have it and sends it again.
    if ((fault as NodeJS.ErrnoException).code === "ENOENT") return null;
    throw fault;
  }
}
