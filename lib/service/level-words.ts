import { type Day, sayDay } from "@/lib/words/day";
import type { TrialPlan } from "@/lib/words/trial-plan";

/** The name of a cover that main plots are dealt, or of a sowing date. */
export function levelName(level: { coverName: string | null; sownOn: string | null }): string {
  if (level.sownOn !== null) return `sown ${sayDay(level.sownOn as Day)}`;
  return level.coverName ?? "open ground";
}

/** What main plots are dealt, in words that tell the levels apart; none but in a split plot. */
export function levelWords(mainPlots: TrialPlan["mainPlots"]): string[] {
  if (!mainPlots) return [];
  return mainPlots.factor === "sowing"
    ? mainPlots.levels.map(({ sownOn }) => levelName({ coverName: null, sownOn }))
    : mainPlots.levels.map(({ cover }) => levelName({ coverName: cover?.name ?? null, sownOn: null }));
}
