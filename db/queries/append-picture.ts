import type { Database } from "../open";
import { picture } from "../schema/bed-fact";
import type { PictureRow } from "./find-picture";

/** Notes that a picture has come home. */
export function appendPicture(database: Database, row: PictureRow): void {
  database.insert(picture).values(row).run();
}
