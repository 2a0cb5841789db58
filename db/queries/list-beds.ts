import { asc } from "drizzle-orm";
import type { Database } from "../open";
import { bed } from "../schema/garden";

export type BedRow = typeof bed.$inferSelect;

/** All beds, in walking order. */
export function listBeds(database: Database): BedRow[] {
  return database.select().from(bed).orderBy(asc(bed.walkingOrder), asc(bed.name)).all();
}
