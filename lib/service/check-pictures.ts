import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { listPictures } from "@/db/queries/list-pictures";
import type { House } from "./house";
import { pictureFile } from "./picture-file";

/** Reads every picture's file against its hash; tells of each that is missing or is another, in words. */
export function checkPictures({ database, dataFolder }: House): { pictures: number; wrong: string[] } {
  const rows = listPictures(database);
  const wrong = rows.flatMap(({ sha256, mediaType }) => {
    const file = pictureFile(dataFolder, sha256, mediaType);
    try {
      const hash = createHash("sha256").update(readFileSync(file)).digest("hex");
      return hash === sha256 ? [] : [`the picture ${file} is not the one that was sent`];
    } catch (fault) {
      return [`the picture ${file} cannot be read (${(fault as NodeJS.ErrnoException).code})`];
    }
  });
  return { pictures: rows.length, wrong };
}
