import { asc, eq } from "drizzle-orm";
import type { Database } from "../open";
import { bed } from "../schema/garden";
import { trialBed } from "../schema/trial";

export interface TrialBedRow {
  trialId: string;
  id: string;
  name: string;
  widthMm: number;
  lengthMm: number;
  potMm: number | null;
}

/** The beds of one trial, or of every trial, in the order in which the trial takes them. */
export function listTrialBeds(database: Database, trialId?: string): TrialBedRow[] {
  return database
    .select({
      trialId: trialBed.trialId,
      id: bed.id,
      name: bed.name,
      widthMm: bed.widthMm,
      lengthMm: bed.lengthMm,
      potMm: bed.potMm,
    })
    .from(trialBed)
    .innerJoin(bed, eq(bed.id, trialBed.bedId))
    .where(trialId === undefined ? undefined : eq(trialBed.trialId, trialId))
    .orderBy(asc(trialBed.trialId), asc(trialBed.position))
    .all();
}
