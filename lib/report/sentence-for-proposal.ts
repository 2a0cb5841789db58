import type { FloorEvidence, Proposal } from "@/lib/analysis/finding";
import { beginSentence } from "@/lib/words/begin-sentence";
import { inAHundred, sayDecimal } from "@/lib/words/say-number";
import { sayUnder } from "@/lib/words/say-under";
import { saySureness, sayTimesInAHundred } from "./sureness";

function floorWords(floor: FloorEvidence): string {
  return floor.of === "survival"
    ? `the survival floor of ${inAHundred(floor.floor)} in a hundred`
    : `the yield floor of ${sayDecimal(floor.floor, 2)} times the check`;
}

/** How the evidence lies to one floor of the rule: *The survival floor of 70 in a hundred is very probably met (93 times in 100).* */
export function sentenceForFloor(floor: FloorEvidence): string {
  const start = beginSentence(
    floor.under === undefined ? floorWords(floor) : `${sayUnder(floor.under)}, ${floorWords(floor)}`,
  );
  if (floor.probability === null) return `${start} cannot be judged from this record.`;
  return `${start} ${saySureness(floor.probability)}.`;
}

/**
 * How likely the survival floor is met in another winter, which holds how far winters differ: *In another winter about 71
 * times in 100, going by one winter; how far winters differ is taken from elsewhere.*
 */
export function sentenceForAnotherWinter(probability: number, winters: number): string {
  const rests =
    winters === 1
      ? "going by this one alone; how far winters differ is assumed, not seen here"
      : `going by ${winters} winters here`;
  return `In another winter it would be met ${sayTimesInAHundred(probability)}, ${rests}.`;
}

/** What the rule proposes for a variety and what would settle it; the person decides. */
export function sentenceForProposal(proposal: Proposal): string {
  const { variety, choice, onFigures, barredBy, cappedBy, winters } = proposal;
  if (choice === null) return `${variety}: the rule proposes nothing.`;
  const cap = cappedBy === null ? "" : ` By the figures alone it would be “${onFigures}”, but ${cappedBy}.`;
  const rests = choice === "grow again" ? ` That rests on ${winters} winters.` : "";
  const onlyWinters = cappedBy !== null && barredBy === null;
  const settle = onlyWinters
    ? " Another winter that goes like this one would settle it."
    : choice === "try once more" && barredBy === null && !proposal.depends
      ? ` ${settledWords(proposal)}`
      : "";
  return `${variety}: the rule proposes “${choice}”.${rests}${cap}${settle}`;
}

function settledWords({ settledBy, floors }: Proposal): string {
  if (settledBy) {
    const { plots, plantsPerPlot } = settledBy;
    return `About ${plots} more ${plots === 1 ? "plot" : "plots"} of ${plantsPerPlot} ${plantsPerPlot === 1 ? "plant" : "plants"} would settle it, if they went as these.`;
  }
  if (floors.some((floor) => floor.under !== undefined))
    return "More blocks with the same main plots would settle it.";
  return floors.some((floor) => floor.probability === null)
    ? "What would settle it cannot be told from this record."
    : "It lies so near the floor that no number of plots a garden can hold would settle it.";
}
