import { asc, isNull } from "drizzle-orm";
import type { Database } from "../open";
import { person } from "../schema/people";

export type PersonRow = typeof person.$inferSelect;

/** Everybody who has not left, by name. */
export function listPeople(database: Database): PersonRow[] {
  return database.select().from(person).where(isNull(person.leftAt)).orderBy(asc(person.name)).all();
}
