import { and, asc, getTableColumns, gte, inArray, lt, type SQL } from "drizzle-orm";
import type { BedFact } from "@/lib/words/bed-fact";
import type { Day } from "@/lib/words/day";
import type { Database } from "../open";
import { bedObservation } from "../schema/bed-fact";

/** Facts of beds, corrected and withdrawn ones included, in fold order; days from `since` on and before `before`. */
export function listBedFacts(
  database: Database,
  { bedIds, since, before }: { bedIds?: string[]; since?: Day | null; before?: Day | null },
): BedFact[] {
  const conditions: (SQL | undefined)[] = [
    bedIds && inArray(bedObservation.bedId, bedIds),
    since ? gte(bedObservation.seenOn, since) : undefined,
    before ? lt(bedObservation.seenOn, before) : undefined,
  ];
  const {
    seq: _seq,
    receivedAt: _received,
    bodyHash: _hash,
    deviceSeq,
    ...columns
  } = getTableColumns(bedObservation);
  return database
    .select({ ...columns, deviceSequence: deviceSeq })
    .from(bedObservation)
    .where(and(...conditions))
    .orderBy(
      asc(bedObservation.seenOn),
      asc(bedObservation.deviceId),
      asc(bedObservation.deviceSeq),
      asc(bedObservation.id),
    )
    .all();
}
