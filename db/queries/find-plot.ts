import { eq, sql } from "drizzle-orm";
import type { Day } from "@/lib/words/day";
import type { Database } from "../open";
import { prepareOnce } from "../prepare-once";
import { plot, trial } from "../schema/trial";

export interface PlantedPlotRow {
  id: string;
  trialId: string;
  code: string;
  plants: number;
  plantedOn: Day;
}

const query = prepareOnce((database) =>
  database
    .select({
      id: plot.id,
      trialId: plot.trialId,
      code: plot.code,
      plants: plot.plants,
      plantedOn: trial.plantedOn,
    })
    .from(plot)
    .innerJoin(trial, eq(trial.id, plot.trialId))
    .where(eq(plot.id, sql.placeholder("plotId")))
    .prepare(),
);

/** A plot with the day on which it was planted, or null when there is no such plot. */
export function findPlot(database: Database, plotId: string): PlantedPlotRow | null {
  return query(database).get({ plotId }) ?? null;
}
