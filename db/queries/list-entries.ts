import { asc, eq } from "drizzle-orm";
import type { EntryRole } from "@/lib/words/trial";
import type { Database } from "../open";
import { variety } from "../schema/garden";
import { entry } from "../schema/trial";

export interface EntryRow {
  trialId: string;
  id: string;
  varietyId: string;
  variety: string;
  packetClaim: string | null;
  role: EntryRole;
}

/** The entries of one trial, or of every trial, in entry order. */
export function listEntries(database: Database, trialId?: string): EntryRow[] {
  return database
    .select({
      trialId: entry.trialId,
      id: entry.id,
      varietyId: entry.varietyId,
      variety: variety.name,
      packetClaim: variety.packetClaim,
      role: entry.role,
    })
    .from(entry)
    .innerJoin(variety, eq(variety.id, entry.varietyId))
    .where(trialId === undefined ? undefined : eq(entry.trialId, trialId))
    .orderBy(asc(entry.trialId), asc(entry.position))
    .all();
}
