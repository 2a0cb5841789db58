import { desc, eq, type SQL, sql } from "drizzle-orm";
import type { Database } from "../open";
import { crop } from "../schema/garden";
import { trial } from "../schema/trial";

export type TrialRow = typeof trial.$inferSelect & { crop: string; hasObservations: boolean };

const columns = {
  id: trial.id,
  question: trial.question,
  purpose: trial.purpose,
  cropId: trial.cropId,
  crop: crop.name,
  design: trial.design,
  seed: trial.seed,
  blocks: trial.blocks,
  plantsPerPlot: trial.plantsPerPlot,
  betweenPlantsMm: trial.betweenPlantsMm,
  betweenRowsMm: trial.betweenRowsMm,
  sownOn: trial.sownOn,
  plantedOn: trial.plantedOn,
  decidingAssessment: trial.decidingAssessment,
  pickingRule: trial.pickingRule,
  clearBy: trial.clearBy,
  fallbackOn: trial.fallbackOn,
  madeAt: trial.madeAt,
  closedOn: trial.closedOn,
  plotsPerBlock: trial.plotsPerBlock,
  gradient: trial.gradient,
  guardRows: trial.guardRows,
  pathSide: trial.pathSide,
  hasObservations: sql<number>`EXISTS (SELECT 1 FROM observation WHERE observation.trial_id = ${trial.id})`,
};

/** The select that every reading of trials starts from: the last planted first. */
export function selectTrials(database: Database, condition: SQL | undefined): TrialRow[] {
  return database
    .select(columns)
    .from(trial)
    .innerJoin(crop, eq(crop.id, trial.cropId))
    .where(condition)
    .orderBy(desc(trial.plantedOn), desc(trial.madeAt))
    .all()
    .map((row) => ({ ...row, hasObservations: row.hasObservations === 1 }));
}
