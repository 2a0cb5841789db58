import type { Database } from "../open";
import { prepareOnce } from "../prepare-once";
import { stand } from "../schema/observation";
import { placeholders } from "./placeholders";

export type StandRow = typeof stand.$inferSelect;

const statement = prepareOnce((database) => {
  const { cohortId: _, ...derived } = placeholders(stand);
  return database
    .insert(stand)
    .values(placeholders(stand))
    .onConflictDoUpdate({ target: stand.cohortId, set: derived })
    .prepare();
});

/** Writes a cohort's derived stand, over the one that was there. */
export function putStand(database: Database, row: StandRow): void {
  statement(database).run({ ...row });
}
