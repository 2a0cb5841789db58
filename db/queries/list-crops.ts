import { asc } from "drizzle-orm";
import type { Database } from "../open";
import { crop } from "../schema/garden";

export type CropRow = typeof crop.$inferSelect;

export function listCrops(database: Database): CropRow[] {
  return database.select().from(crop).orderBy(asc(crop.name)).all();
}
