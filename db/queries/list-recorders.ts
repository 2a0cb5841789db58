import type { Database } from "../open";

/** Everybody who recorded, changed or judged anything, by name. */
export function listRecorders(database: Database): string[] {
  return database.$client
    .prepare<[], string>(
      `SELECT "by" FROM observation UNION SELECT "by" FROM bed_observation UNION SELECT "by" FROM amendment
         UNION SELECT "by" FROM verdict ORDER BY 1`,
    )
    .pluck()
    .all()
    .filter((name) => name !== "");
}
