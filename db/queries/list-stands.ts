import { asc } from "drizzle-orm";
import type { Database } from "../open";
import { stand } from "../schema/observation";
import type { StandRow } from "./put-stand";

/** Every derived stand. */
export function listStands(database: Database): StandRow[] {
  return database.select().from(stand).orderBy(asc(stand.cohortId)).all();
}
