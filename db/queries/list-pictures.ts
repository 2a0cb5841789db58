import { asc } from "drizzle-orm";
import type { Database } from "../open";
import { picture } from "../schema/bed-fact";
import type { PictureRow } from "./find-picture";

/** Every picture that has come home. */
export function listPictures(database: Database): PictureRow[] {
  return database.select().from(picture).orderBy(asc(picture.receivedAt), asc(picture.sha256)).all();
}
