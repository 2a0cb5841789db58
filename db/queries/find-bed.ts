import { eq, sql } from "drizzle-orm";
import type { Database } from "../open";
import { prepareOnce } from "../prepare-once";
import { bed } from "../schema/garden";

const query = prepareOnce((database) =>
  database
    .select({ id: bed.id, name: bed.name })
    .from(bed)
    .where(eq(bed.id, sql.placeholder("bedId")))
    .prepare(),
);

/** A bed, or null when there is no such bed. */
export function findBed(database: Database, bedId: string): { id: string; name: string } | null {
  return query(database).get({ bedId }) ?? null;
}
