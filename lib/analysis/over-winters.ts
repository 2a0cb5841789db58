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
 * A proposal with earlier winters beside it. *Grow again* is for varieties that were met so by two winters: on the first
 * one, or where an earlier one missed the floor as surely as the rule asks, nothing higher than *try once more* is
 * proposed. What the figures alone would propose stays in `onFigures`, and a person may choose it.
 */
export function proposalOverWinters(
  proposal: Proposal,
  earlier: readonly EarlierWinter[],
  sureness: number,
): Proposal {
  const winters = new Set(earlier.map((winter) => winter.season)).size + 1;
  const { onFigures, barredBy } = proposal;
  if (onFigures !== "grow again") return { ...proposal, choice: onFigures, cappedBy: null, winters };
  const cappedBy = barredBy ?? capOf(proposal, earlier, sureness);
  if (cappedBy !== null) return { ...proposal, choice: "try once more", cappedBy, settledBy: null, winters };
  return { ...proposal, choice: "grow again", cappedBy: null, settledBy: null, winters };
}

function capOf({ floors }: Proposal, earlier: readonly EarlierWinter[], sureness: number): string | null {
  const floor = floors.find(({ of }) => of === "survival")?.floor ?? null;
  if (earlier.length === 0)
    return floor === null
      ? "this is its first season here, and a verdict rests on two"
      : "this is its first winter here, and a verdict rests on two";
  const missed = earlier.filter(
    (winter) => floor !== null && probabilityAbove(winter, floor) <= 1 - sureness,
  );
  if (missed.length === 0) return null;
  const seasons = [...new Set(missed.map((winter) => winter.season))];
  return `the winter${seasons.length === 1 ? "" : "s"} of ${seasons.join(" and ")} missed the floor`;
}

function probabilityAbove({ standing, effectivePlants }: EarlierWinter, floor: number): number {
  return betaUpper(floor, standing + 0.5, effectivePlants - standing + 0.5);
}
