import { type Day, sayDay } from "@/lib/words/day";
import { sayCompanionLevel } from "@/lib/words/say-under";
import type { MainFactor } from "@/lib/words/trial";
import type { TrialPlan } from "@/lib/words/trial-plan";

/** The name of what main plots are dealt: a cover, a sowing date, with a companion or without. */
export function levelName(level: {
  factor: MainFactor;
  coverName: string | null;
  sownOn: string | null;
  companion: string | null;
}): string {
  if (level.factor === "companion") return sayCompanionLevel(level.companion);
  if (level.sownOn !== null) return `sown ${sayDay(level.sownOn as Day)}`;
  return level.coverName ?? "open ground";
}

/** What main plots are dealt, in words that tell the levels apart; none but in a split plot. */
export function levelWords(mainPlots: TrialPlan["mainPlots"]): string[] {
  if (!mainPlots) return [];
  const { factor } = mainPlots;
  const blank = { factor, coverName: null, sownOn: null, companion: null };
  if (mainPlots.factor === "sowing")
    return mainPlots.levels.map(({ sownOn }) => levelName({ ...blank, sownOn }));
  if (mainPlots.factor === "companion")
    return mainPlots.levels.map(({ companion }) =>
      levelName({ ...blank, companion: companion?.name ?? null }),
    );
  return mainPlots.levels.map(({ cover }) => levelName({ ...blank, coverName: cover?.name ?? null }));
}

/** The companions that some main plots are dealt and others are not. */
export function comparedCompanions({ mainPlots }: Pick<TrialPlan, "mainPlots">) {
  return mainPlots?.factor === "companion"
    ? mainPlots.levels.flatMap(({ companion }) => companion ?? [])
    : [];
}
