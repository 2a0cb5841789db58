import type { ShareOf, SurvivalOfMain } from "@/lib/analysis/finding";
import { inAHundred } from "@/lib/words/say-number";

function under(factor: SurvivalOfMain["factor"], treatment: string): string {
  return factor === "cover" ? `Under ${treatment}` : treatment.charAt(0).toUpperCase() + treatment.slice(1);
}

/** What stood under one cover, or from one sowing: *Under fleece 62 of 72 stood, somewhere between 68 and 94 in a hundred.* */
export function sentenceForTreatment(factor: SurvivalOfMain["factor"], share: ShareOf<"treatment">): string {
  const counted = share.plants - share.censored;
  const limits =
    share.low === null || share.high === null
      ? ""
      : `, somewhere between ${inAHundred(share.low)} and ${inAHundred(share.high)} in a hundred`;
  return `${under(factor, share.treatment)} ${share.standing} of ${counted} stood${limits}.`;
}

/** How two covers or sowings differ; without limits it is only told what was seen. */
export function sentenceForTreatments(difference: SurvivalOfMain["differences"][number]): string {
  const { a, b, estimate, low, high } = difference;
  if (estimate === null) return `${a} and ${b} cannot be compared.`;
  const points = (value: number) => Math.round(Math.abs(value) * 100);
  const side = (value: number) => `${points(value)} ${value < 0 ? "fewer" : "more"}`;
  if (low === null || high === null)
    return `${a} had ${side(estimate)} in a hundred than ${b}. On so few main plots that is described, not tested.`;
  if (low > 0 || high < 0)
    return `${a} clearly kept ${side(estimate)} in a hundred than ${b}, somewhere between ${side(low)} and ${side(high)}.`;
  return `No clear difference between ${a} and ${b}: anything from ${side(low)} to ${side(high)} in a hundred.`;
}

/** Whether the varieties' differences depend on the cover: those pairs where it clearly does, or that none does clearly. */
export function sentenceForInteractions(interactions: SurvivalOfMain["interactions"]): string {
  const clear = interactions.filter(
    ({ low, high }) => low !== null && high !== null && (low > 0 || high < 0),
  );
  if (clear.length === 0)
    return "That the varieties' differences depend on it is not clear; on so few plots it rarely is.";
  return clear
    .map(({ variety, reference, a, b, estimate }) => {
      const points = Math.round(Math.abs(estimate as number) * 100);
      return `Against ${reference}, ${variety} clearly does ${points} in a hundred ${(estimate as number) > 0 ? "better" : "worse"} under ${a} than under ${b}.`;
    })
    .join(" ");
}
