import type { FloorEvidence, Proposal } from "@/lib/analysis/finding";
import { inAHundred, sayDecimal } from "@/lib/words/say-number";
import { saySureness, sayTimesInAHundred } from "./sureness";

function floorWords(floor: FloorEvidence): string {
  return floor.of === "survival"
    ? `the survival floor of ${inAHundred(floor.floor)} in a hundred`
    : `the yield floor of ${sayDecimal(floor.floor, 2)} times the check`;
}

/** How the evidence lies to one floor of the rule: *The survival floor of 70 in a hundred is very probably met (93 times in 100).* */
export function sentenceForFloor(floor: FloorEvidence): string {
  const words = floorWords(floor);
  const start = words.charAt(0).toUpperCase() + words.slice(1);
  if (floor.probability === null) return `${start} cannot be judged from this record.`;
  return `${start} ${saySureness(floor.probability)} (${sayTimesInAHundred(floor.probability)}).`;
}

/** What the rule proposes for a variety; the person decides. */
export function sentenceForProposal(proposal: Proposal): string {
  if (proposal.choice === null) return `${proposal.variety}: the rule proposes nothing.`;
  const cap = proposal.cappedBy ? ` It goes no higher because ${proposal.cappedBy}.` : "";
  const settle = proposal.settledBy
    ? ` About ${proposal.settledBy.plots} more ${proposal.settledBy.plots === 1 ? "plot" : "plots"} of ${proposal.settledBy.plantsPerPlot} would settle it.`
    : "";
  return `${proposal.variety}: the rule proposes “${proposal.choice}”.${cap}${settle}`;
}
