import { and, eq, ne, sql } from "drizzle-orm";
import type { Database } from "../open";
import { prepareOnce } from "../prepare-once";
import { observation } from "../schema/observation";
import { type FactRow, foldOrder, prepareMany, selectFacts } from "./fact-rows";

const trialId = sql.placeholder("trialId");

const ownFacts = prepareOnce((database) =>
  prepareMany(database, selectFacts(database, eq(observation.trialId, trialId)).orderBy(...foldOrder)),
);

const correctionsFromElsewhere = prepareOnce((database) =>
  prepareMany(
    database,
    selectFacts(
      database,
      and(
        sql`${observation.replaces} IS NOT NULL`,
        ne(observation.trialId, trialId),
        sql`${observation.replaces} IN (SELECT id FROM observation WHERE trial_id = ${trialId})`,
      ),
    ),
  ),
);

/**
 * All facts of a trial, and those from elsewhere that correct one of them (a pick booked to the wrong trial, say), in
 * fold order.
 */
export function listFactsOfTrial(database: Database, trialId: string): FactRow[] {
  return [...ownFacts(database)({ trialId }), ...correctionsFromElsewhere(database)({ trialId })];
}
