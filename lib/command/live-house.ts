import { v7 } from "uuid";
import type { Database } from "@/db/open";
import type { House } from "@/lib/service/house";
import { instantOf } from "@/lib/words/instant";

/** The house with the real clock and real ids, reporting on the console. */
export function liveHouse(database: Database, dataFolder: string): House {
  return {
    database,
    dataFolder,
    now: () => instantOf(Date.now()),
    newId: () => v7(),
    report: (fault) => console.error(fault),
  };
}
