import { asc } from "drizzle-orm";
import type { Database } from "../open";
import { cover } from "../schema/garden";

export type CoverRow = typeof cover.$inferSelect;

export function listCovers(database: Database): CoverRow[] {
  return database.select().from(cover).orderBy(asc(cover.name)).all();
}
