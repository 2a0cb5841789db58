import { asc, eq } from "drizzle-orm";
import type { Day } from "@/lib/words/day";
import type { Database } from "../open";
import { cover, coverPlacing } from "../schema/garden";

export interface CoverPlacingRow {
  name: string;
  kind: string;
  bedId: string;
  layer: number;
  fromOn: Day;
  untilOn: Day | null;
}

/** What stood over a trial's beds, outermost layer first. */
export function listCoverPlacings(database: Database, trialId: string): CoverPlacingRow[] {
  return database
    .select({
      name: cover.name,
      kind: cover.kind,
      bedId: coverPlacing.bedId,
      layer: coverPlacing.layer,
      fromOn: coverPlacing.fromOn,
      untilOn: coverPlacing.untilOn,
    })
    .from(coverPlacing)
    .innerJoin(cover, eq(cover.id, coverPlacing.coverId))
    .where(eq(coverPlacing.trialId, trialId))
    .orderBy(asc(coverPlacing.layer), asc(coverPlacing.fromOn))
    .all();
}
