import { asc } from "drizzle-orm";
import type { Database } from "../open";
import { cause } from "../schema/observation";

export type CauseRow = typeof cause.$inferSelect;

/** All causes of loss and reasons of removal, in the fixed order in which they are offered. */
export function listCauses(database: Database): CauseRow[] {
  return database.select().from(cause).orderBy(asc(cause.takes), asc(cause.position), asc(cause.code)).all();
}
