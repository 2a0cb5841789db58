import { eq } from "drizzle-orm";
import type { Day } from "@/lib/words/day";
import type { Database } from "../open";
import { plot, trial } from "../schema/trial";

export interface PlantedPlotRow {
  id: string;
  trialId: string;
  code: string;
  plants: number;
  plantedOn: Day;
}

/** A plot with the day on which it was planted, or null when there is no such plot. */
export function findPlot(database: Database, plotId: string): PlantedPlotRow | null {
  const row = database
    .select({
      id: plot.id,
      trialId: plot.trialId,
      code: plot.code,
      plants: plot.plants,
      plantedOn: trial.plantedOn,
    })
    .from(plot)
    .innerJoin(trial, eq(trial.id, plot.trialId))
    .where(eq(plot.id, plotId))
    .get();
  return row ?? null;
}
