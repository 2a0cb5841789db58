import { eq } from "drizzle-orm";
import type { Database } from "../open";
import { observation } from "../schema/observation";
import { type FactRow, foldOrder, selectFacts } from "./fact-rows";

/** The facts of one plot, corrected and withdrawn ones included, in fold order. */
export function listFactsOfPlot(database: Database, plotId: string): FactRow[] {
  return selectFacts(database, eq(observation.plotId, plotId))
    .orderBy(...foldOrder)
    .all();
}
