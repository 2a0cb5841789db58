import { and, desc, eq, sql } from "drizzle-orm";
import type { Day } from "@/lib/words/day";
import type { Database } from "../open";
import { observation } from "../schema/observation";
import { type FactRow, selectFacts } from "./fact-rows";

/** Where a page of the log left off: the last line's day and receipt number. */
export interface LogPlace {
  seenOn: Day;
  seq: number;
}

/** One page of a trial's facts, the latest day first, going on from where the last page ended. */
export function listLogPage(
  database: Database,
  trialId: string,
  before: LogPlace | null,
  limit: number,
): FactRow[] {
  const earlier =
    before === null
      ? undefined
      : sql`(${observation.seenOn}, ${observation.seq}) < (${before.seenOn}, ${before.seq})`;
  return selectFacts(database, and(eq(observation.trialId, trialId), earlier))
    .orderBy(desc(observation.seenOn), desc(observation.seq))
    .limit(limit)
    .all();
}
