import { desc, eq } from "drizzle-orm";
import type { Day } from "@/lib/words/day";
import type { VerdictChoice } from "@/lib/words/trial";
import type { Database } from "../open";
import { entry, trial, verdict } from "../schema/trial";

export interface VerdictOfVarietyRow {
  id: string;
  trialId: string;
  question: string;
  use: unknown;
  choice: VerdictChoice;
  proposal: VerdictChoice | null;
  reason: string;
  by: string;
  decidedOn: Day;
}

/** The verdicts given on a variety in any trial, the last first. */
export function listVerdictsOfVariety(database: Database, varietyId: string): VerdictOfVarietyRow[] {
  return database
    .select({
      id: verdict.id,
      trialId: verdict.trialId,
      question: trial.question,
      use: verdict.use,
      choice: verdict.choice,
      proposal: verdict.proposal,
      reason: verdict.reason,
      by: verdict.by,
      decidedOn: verdict.decidedOn,
    })
    .from(verdict)
    .innerJoin(entry, eq(entry.id, verdict.entryId))
    .innerJoin(trial, eq(trial.id, verdict.trialId))
    .where(eq(entry.varietyId, varietyId))
    .orderBy(desc(verdict.decidedAt), desc(verdict.id))
    .all();
}
