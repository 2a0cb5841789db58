import { asc, eq } from "drizzle-orm";
import type { Database } from "../open";
import { cover } from "../schema/garden";
import { mainLevel } from "../schema/trial";

export type MainLevelRow = typeof mainLevel.$inferSelect & {
  coverName: string | null;
  coverKind: string | null;
};

/** What a split plot deals to its main plots, in the plan's order; none for every other design. */
export function listMainLevels(database: Database, trialId: string): MainLevelRow[] {
  return database
    .select({
      id: mainLevel.id,
      trialId: mainLevel.trialId,
      position: mainLevel.position,
      factor: mainLevel.factor,
      coverId: mainLevel.coverId,
      fromOn: mainLevel.fromOn,
      untilOn: mainLevel.untilOn,
      sownOn: mainLevel.sownOn,
      companion: mainLevel.companion,
      coverName: cover.name,
      coverKind: cover.kind,
    })
    .from(mainLevel)
    .leftJoin(cover, eq(cover.id, mainLevel.coverId))
    .where(eq(mainLevel.trialId, trialId))
    .orderBy(asc(mainLevel.position))
    .all();
}
