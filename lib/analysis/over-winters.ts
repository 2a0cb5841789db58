import { betaUpper } from "@/lib/statistics/beta";
import type { Proposal } from "./finding";
import { type SeasonCount, wintersTogether } from "./winters-together";

/**
 * A proposal with earlier winters beside it. *Grow again* is for what met the floor in two winters as surely as the rule
 * asks: short of that nothing higher than *try once more* is proposed. What the figures alone would propose stays in
 * `onFigures`, and a person may choose it.
 *
 * @param trials what trials of earlier winters said of the variety under the same kinds of cover; several of one season
 * are one winter, and meet the floor or miss it together
 */
export function proposalOverWinters(
  proposal: Proposal,
  trials: readonly SeasonCount[],
  sureness: number,
): Proposal {
  const earlier = wintersTogether(trials);
  const winters = earlier.length + 1;
  const { onFigures, barredBy } = proposal;
  if (onFigures !== "grow again") return { ...proposal, choice: onFigures, cappedBy: null, winters };
  const cappedBy = barredBy ?? capOf(proposal, earlier, winters, sureness);
  const choice = cappedBy === null ? "grow again" : "try once more";
  return { ...proposal, choice, cappedBy, settledBy: null, winters };
}

function capOf(
  { floors }: Proposal,
  earlier: readonly SeasonCount[],
  winters: number,
  sureness: number,
): string | null {
  const floor = floors.find(({ of }) => of === "survival")?.floor ?? null;
  if (winters === 1)
    return `this is its first ${floor === null ? "season" : "winter"} here, and a verdict rests on two`;
  if (floor === null) return null;
  if (earlier.some((winter) => probabilityAbove(winter, floor) >= sureness)) return null;
  const missed = earlier
    .filter((winter) => probabilityAbove(winter, floor) <= 1 - sureness)
    .map(({ season }) => season);
  const others = missed.length === 0 ? "" : `; ${missed.join(" and ")} missed it`;
  return `of its ${winters} winters here this one alone met the floor as surely as was asked${others}`;
}

function probabilityAbove({ standing, effectivePlants }: SeasonCount, floor: number): number {
  return betaUpper(floor, standing + 0.5, effectivePlants - standing + 0.5);
}
