import { and, eq, isNull } from "drizzle-orm";
import type { Database } from "../open";
import { person } from "../schema/people";
import type { PersonRow } from "./list-people";

/** Somebody who has not left, by id. */
export function findPerson(database: Database, id: string): PersonRow | null {
  return (
    database
      .select()
      .from(person)
      .where(and(eq(person.id, id), isNull(person.leftAt)))
      .get() ?? null
  );
}
