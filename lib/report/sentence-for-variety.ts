import type { Survival, SurvivalOfVariety } from "@/lib/analysis/finding";
import { inAHundred } from "@/lib/words/say-number";

const verbs: Record<Survival["step"], { did: string; would: string }> = {
  took: { did: "took", would: "would take" },
  wintered: { did: "wintered", would: "would winter" },
  both: { did: "stood", would: "would stand" },
};

/** At fewer effective plants than this, "3 in so many" is no longer the rule of three. */
const fewestForRuleOfThree = 6;

/**
 * What one variety's plants did, as a gardener would say it: *Hollin: 21 of 24 stood; somewhere between 69 and 96 in a
 * hundred would in this bed.* Where none or all were lost the one-sided limit is said instead of an interval.
 */
export function sentenceForVariety(variety: SurvivalOfVariety, step: Survival["step"] = "both"): string {
  const { variety: name, plants, standing, censored, low, high, effectivePlants, estimate } = variety;
  const { did, would } = verbs[step];
  const taken = censored > 0 ? ` (${censored} more taken out, not lost)` : "";
  if (plants === 0) return `${name}: no plants to judge by.`;
  if (plants - censored === 0)
    return `${name}: every plant was taken out before that day; nothing can be said.`;
  const counted = plants - censored;
  if (estimate === null || low === null || high === null)
    return `${name}: ${standing} of ${counted} ${did}${taken}; how far that can be trusted cannot be worked out.`;
  if (standing === counted) {
    const all = counted === 1 ? "the one plant" : `all ${counted}`;
    if (effectivePlants !== null && effectivePlants >= fewestForRuleOfThree)
      return `${name}: ${all} ${did}${taken}; up to about 3 in ${Math.round(effectivePlants)} could still be lost.`;
    return `${name}: ${all} ${did}${taken}, but they are too few to rule out losing ${inAHundred(1 - low)} in a hundred.`;
  }
  if (standing === 0)
    return `${name}: none of ${counted} ${did}${taken}; at most about ${inAHundred(high)} in a hundred ${would} in this bed.`;
  return `${name}: ${standing} of ${counted} ${did}${taken}; somewhere between ${inAHundred(low)} and ${inAHundred(high)} in a hundred would in this bed.`;
}
