import { and, eq, ne, sql } from "drizzle-orm";
import type { Database } from "../open";
import { observation } from "../schema/observation";
import { type FactRow, foldOrder, selectFacts } from "./fact-rows";

/**
 * All facts of a trial, and those from elsewhere that correct one of them (a pick booked to the wrong trial, say), in
 * fold order.
 */
export function listFactsOfTrial(database: Database, trialId: string): FactRow[] {
  const own = selectFacts(database, eq(observation.trialId, trialId))
    .orderBy(...foldOrder)
    .all();
  const corrected = sql`SELECT id FROM observation WHERE trial_id = ${trialId}`;
  const fromElsewhere = selectFacts(
    database,
    and(
      sql`${observation.replaces} IS NOT NULL`,
      ne(observation.trialId, trialId),
      sql`${observation.replaces} IN (${corrected})`,
    ),
  ).all();
  return [...own, ...fromElsewhere];
}
