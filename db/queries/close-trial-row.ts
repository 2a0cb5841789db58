import { eq } from "drizzle-orm";
import type { Day } from "@/lib/words/day";
import type { Database } from "../open";
import { trial } from "../schema/trial";

export function closeTrialRow(database: Database, trialId: string, closedOn: Day): void {
  database.update(trial).set({ closedOn }).where(eq(trial.id, trialId)).run();
}
