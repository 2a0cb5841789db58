import { and, asc, eq, gte, isNull, lte, or } from "drizzle-orm";
import type { Day } from "@/lib/words/day";
import type { Database } from "../open";
import { cover, coverPlacing } from "../schema/garden";
import { mainLevel, plot } from "../schema/trial";

/** The covers that stand over any bed, or over main plots in it, on a day; the outermost first. */
export function listCoversOverBeds(database: Database, day: Day): { bedId: string; name: string }[] {
  const overBeds = database
    .select({ bedId: coverPlacing.bedId, name: cover.name })
    .from(coverPlacing)
    .innerJoin(cover, eq(cover.id, coverPlacing.coverId))
    .where(
      and(lte(coverPlacing.fromOn, day), or(isNull(coverPlacing.untilOn), gte(coverPlacing.untilOn, day))),
    )
    .orderBy(asc(coverPlacing.bedId), asc(coverPlacing.layer), asc(cover.name))
    .all();
  const overMainPlots = database
    .selectDistinct({ bedId: plot.bedId, name: cover.name })
    .from(mainLevel)
    .innerJoin(cover, eq(cover.id, mainLevel.coverId))
    .innerJoin(plot, eq(plot.mainLevelId, mainLevel.id))
    .where(and(lte(mainLevel.fromOn, day), or(isNull(mainLevel.untilOn), gte(mainLevel.untilOn, day))))
    .orderBy(asc(plot.bedId), asc(cover.name))
    .all();
  return [...overBeds, ...overMainPlots];
}
