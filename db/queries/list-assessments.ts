import { asc, eq } from "drizzle-orm";
import type { Database } from "../open";
import { assessment } from "../schema/trial";

export type AssessmentRow = typeof assessment.$inferSelect;

/** The assessments of one trial, or of every trial, by their day. */
export function listAssessments(database: Database, trialId?: string): AssessmentRow[] {
  return database
    .select()
    .from(assessment)
    .where(trialId === undefined ? undefined : eq(assessment.trialId, trialId))
    .orderBy(asc(assessment.dueOn), asc(assessment.name))
    .all();
}
