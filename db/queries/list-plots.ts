import { asc, eq } from "drizzle-orm";
import type { Database } from "../open";
import { plot } from "../schema/trial";

export type PlotRow = typeof plot.$inferSelect;

/** The plots of a trial as they lie: bed by bed, row by row. */
export function listPlots(database: Database, trialId: string): PlotRow[] {
  return database
    .select()
    .from(plot)
    .where(eq(plot.trialId, trialId))
    .orderBy(asc(plot.bedId), asc(plot.row), asc(plot.column))
    .all();
}
