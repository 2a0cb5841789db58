import type { Database } from "../open";
import { prepareOnce } from "../prepare-once";
import { observation } from "../schema/observation";
import { placeholders } from "./placeholders";

const statement = prepareOnce((database) => {
  const { seq: _, ...body } = placeholders(observation);
  return database.insert(observation).values(body).prepare();
});

/** Writes one fact down. There is no way to change or take one away: a correction is another fact. */
export function appendObservation(
  database: Database,
  row: Omit<typeof observation.$inferSelect, "seq">,
): void {
  statement(database).run(row);
}
