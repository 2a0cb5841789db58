import { and, asc, eq, gte, isNull, lte, or } from "drizzle-orm";
import type { Day } from "@/lib/words/day";
import type { Database } from "../open";
import { cover, coverPlacing } from "../schema/garden";

/** The covers that stand over any bed on a day, the outermost first. */
export function listCoversOverBeds(database: Database, day: Day): { bedId: string; name: string }[] {
  return database
    .select({ bedId: coverPlacing.bedId, name: cover.name })
    .from(coverPlacing)
    .innerJoin(cover, eq(cover.id, coverPlacing.coverId))
    .where(
      and(lte(coverPlacing.fromOn, day), or(isNull(coverPlacing.untilOn), gte(coverPlacing.untilOn, day))),
    )
    .orderBy(asc(coverPlacing.bedId), asc(coverPlacing.layer), asc(cover.name))
    .all();
}
