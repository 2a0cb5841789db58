import type { Database } from "../open";
import { garden } from "../schema/garden";

export type GardenRow = typeof garden.$inferSelect;

/** The one garden of this file, or null in an empty file. */
export function findGarden(database: Database): GardenRow | null {
  return database.select().from(garden).get() ?? null;
}
