import { eq, sql } from "drizzle-orm";
import type { Day } from "@/lib/words/day";
import type { Instant } from "@/lib/words/instant";
import type { Database } from "../open";
import { observation } from "../schema/observation";

/** When and of which day a trial's first fact was recorded; null before there is one. */
export function findFirstFact(
  database: Database,
  trialId: string,
): { seenOn: Day; recordedAt: Instant } | null {
  const row = database
    .select({
      seenOn: sql<Day | null>`min(${observation.seenOn})`,
      recordedAt: sql<Instant | null>`min(${observation.recordedAt})`,
    })
    .from(observation)
    .where(eq(observation.trialId, trialId))
    .get();
  return row?.seenOn && row.recordedAt ? { seenOn: row.seenOn, recordedAt: row.recordedAt } : null;
}
