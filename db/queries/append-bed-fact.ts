import type { Database } from "../open";
import { prepareOnce } from "../prepare-once";
import { bedObservation } from "../schema/bed-fact";
import { placeholders } from "./placeholders";

const statement = prepareOnce((database) => {
  const { seq: _, ...body } = placeholders(bedObservation);
  return database.insert(bedObservation).values(body).prepare();
});

/** Writes one fact of a bed down. There is no way to change or take one away: a correction is another fact. */
export function appendBedFact(
  database: Database,
  row: Omit<typeof bedObservation.$inferSelect, "seq">,
): void {
  statement(database).run(row);
}
