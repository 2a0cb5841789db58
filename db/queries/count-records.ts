import type { Day } from "@/lib/words/day";
import type { Database } from "../open";

export interface RecordCount {
  /** Null before a garden was made. */
  gardenName: string | null;
  trials: number;
  observations: number;
  /** The last day of which anything was seen in a plot. */
  lastSeenOn: Day | null;
}

/** How much a garden's file holds; of a file of any version. */
export function countRecords(database: Database): RecordCount {
  return database.$client
    .prepare<[], RecordCount>(
      `SELECT (SELECT name FROM garden) AS gardenName, (SELECT count(*) FROM trial) AS trials,
         (SELECT count(*) FROM observation) AS observations, (SELECT max(seen_on) FROM observation) AS lastSeenOn`,
    )
    .get() as RecordCount;
}
