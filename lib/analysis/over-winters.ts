import { betaUpper } from "@/lib/statistics/beta";
import type { Proposal } from "./finding";

/** What an earlier winter said of a variety under the same kinds of cover, in effective plants. */
export interface EarlierWinter {
  /** From autumn to spring: `2026/27`. */
  season: string;
  standing: number;
  effectivePlants: number;
  /** Whether the tender check fell beside it; null where nobody could tell. */
  tested: boolean | null;
}

/**
 * A proposal with earlier winters beside it. *Grow again* is for what met the floor in two winters as surely as the rule
 * asks: short of that nothing higher than *try once more* is proposed. What the figures alone would propose stays in
 * `onFigures`, and a person may choose it.
 */
export function proposalOverWinters(
  proposal: Proposal,
  earlier: readonly EarlierWinter[],
  sureness: number,
): Proposal {
  const winters = new Set(earlier.map((winter) => winter.season)).size + 1;
  const { onFigures, barredBy } = proposal;
  if (onFigures !== "grow again") return { ...proposal, choice: onFigures, cappedBy: null, winters };
  const cappedBy = barredBy ?? capOf(proposal, earlier, winters, sureness);
  const choice = cappedBy === null ? "grow again" : "try once more";
  return { ...proposal, choice, cappedBy, settledBy: null, winters };
}

function capOf(
  { floors }: Proposal,
  earlier: readonly EarlierWinter[],
  winters: number,
  sureness: number,
): string | null {
  const floor = floors.find(({ of }) => of === "survival")?.floor ?? null;
  if (winters === 1)
    return `this is its first ${floor === null ? "season" : "winter"} here, and a verdict rests on two`;
  if (floor === null) return null;
  const seasons = (some: readonly EarlierWinter[]) => [...new Set(some.map((winter) => winter.season))];
  const met = seasons(earlier.filter((winter) => probabilityAbove(winter, floor) >= sureness));
  if (met.length > 0) return null;
  const missed = seasons(earlier.filter((winter) => probabilityAbove(winter, floor) <= 1 - sureness));
  const others = missed.length === 0 ? "" : `; ${missed.join(" and ")} missed it`;
  return `of its ${winters} winters here this one alone met the floor as surely as was asked${others}`;
}

function probabilityAbove({ standing, effectivePlants }: EarlierWinter, floor: number): number {
  return betaUpper(floor, standing + 0.5, effectivePlants - standing + 0.5);
}
