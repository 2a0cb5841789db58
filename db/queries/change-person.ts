import { eq } from "drizzle-orm";
import type { Database } from "../open";
import { person } from "../schema/people";

/** What may change of a person; the name stays, since facts carry it. */
export type PersonChange = Partial<
  Pick<typeof person.$inferInsert, "passphraseHash" | "atHome" | "leftAt" | "role">
>;

export function changePerson(database: Database, id: string, change: PersonChange): void {
  database.update(person).set(change).where(eq(person.id, id)).run();
}
