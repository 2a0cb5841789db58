import { asc } from "drizzle-orm";
import type { Database } from "../open";
import { variety } from "../schema/garden";

export type VarietyRow = typeof variety.$inferSelect;

export function listVarieties(database: Database): VarietyRow[] {
  return database.select().from(variety).orderBy(asc(variety.name)).all();
}
