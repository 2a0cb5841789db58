/** What one trial said of a variety, in effective plants, with the season it stood in: `2026/27`. */
export interface SeasonCount {
  season: string;
  standing: number;
  effectivePlants: number;
}

/**
 * Trials of one season put together, since several are one winter: the earliest season first. Effective plants need not be
 * whole, and all of them standing never comes out a hair more.
 */
export function wintersTogether(counts: readonly SeasonCount[]): (SeasonCount & { trials: number })[] {
  const seasons = new Map<string, SeasonCount & { trials: number }>();
  for (const { season, standing, effectivePlants } of counts) {
    const sum = seasons.get(season) ?? { season, trials: 0, standing: 0, effectivePlants: 0 };
    sum.trials += 1;
    sum.standing += standing;
    sum.effectivePlants += effectivePlants;
    seasons.set(season, sum);
  }
  return [...seasons.values()]
    .map((sum) => ({ ...sum, standing: Math.min(sum.standing, sum.effectivePlants) }))
    .sort((a, b) => (a.season < b.season ? -1 : 1));
}
