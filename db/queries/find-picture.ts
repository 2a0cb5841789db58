import { eq } from "drizzle-orm";
import type { Database } from "../open";
import { picture } from "../schema/bed-fact";

export type PictureRow = typeof picture.$inferSelect;

/** A picture that has come home, or null. */
export function findPicture(database: Database, sha256: string): PictureRow | null {
  return database.select().from(picture).where(eq(picture.sha256, sha256)).get() ?? null;
}
