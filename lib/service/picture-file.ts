import { join } from "node:path";
import type { PictureType } from "@/lib/words/picture";

const endings: Record<PictureType, string> = {
  "image/jpeg": "jpg",
  "image/png": "png",
  "image/webp": "webp",
};

/** The folder of pictures, beside the garden's file. */
export function pictureFolder(dataFolder: string): string {
  return join(dataFolder, "pictures");
}

/** Where a picture is kept, by its own hash. */
export function pictureFile(dataFolder: string, sha256: string, type: PictureType): string {
  return join(pictureFolder(dataFolder), `${sha256}.${endings[type]}`);
}
