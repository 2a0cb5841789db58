import { eq } from "drizzle-orm";
import type { Database } from "../open";
import { observation } from "../schema/observation";

/** The hash of the fact under an id, or null when the id is new. */
export function findObservation(database: Database, id: string): { bodyHash: string } | null {
  const row = database
    .select({ bodyHash: observation.bodyHash })
    .from(observation)
    .where(eq(observation.id, id))
    .get();
  return row ?? null;
}
