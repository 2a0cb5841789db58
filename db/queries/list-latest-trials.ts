import { desc } from "drizzle-orm";
import type { Day } from "@/lib/words/day";
import type { Database } from "../open";
import { trial } from "../schema/trial";

/** So many trials of those planted last, by name only. */
export function listLatestTrials(
  database: Database,
  limit: number,
): { id: string; question: string; plantedOn: Day }[] {
  return database
    .select({ id: trial.id, question: trial.question, plantedOn: trial.plantedOn })
    .from(trial)
    .orderBy(desc(trial.plantedOn), desc(trial.madeAt))
    .limit(limit)
    .all();
}
