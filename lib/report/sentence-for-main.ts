import type { ShareOf, SurvivalOfMain } from "@/lib/analysis/finding";
import { beginSentence } from "@/lib/words/begin-sentence";
import { inAHundred } from "@/lib/words/say-number";
import { sayUnder } from "@/lib/words/say-under";
import { factorWords } from "@/lib/words/trial";

/** What stood under one cover, or from one sowing: *Under fleece, 62 of 72 plants in 9 plots stood, somewhere between 68 and 94 in a hundred.* */
export function sentenceForTreatment(share: ShareOf<"treatment">): string {
  const counted = share.plants - share.censored;
  const plots = `${share.plots} ${share.plots === 1 ? "plot" : "plots"}`;
  const limits =
    share.low === null || share.high === null
      ? ""
      : `, somewhere between ${inAHundred(share.low)} and ${inAHundred(share.high)} in a hundred`;
  return `${beginSentence(sayUnder(share.treatment))}, ${share.standing} of ${counted} plants in ${plots} stood${limits}.`;
}

/** How two covers or sowings differ; without limits it is only told what was seen. */
export function sentenceForTreatments(difference: SurvivalOfMain["differences"][number]): string {
  const { estimate, low, high } = difference;
  const [a, b] = [sayUnder(difference.a), sayUnder(difference.b)];
  if (estimate === null) return `Plants ${a} and plants ${b} cannot be compared.`;
  const points = (value: number) => Math.round(Math.abs(value) * 100);
  const side = (value: number) => `${points(value)} ${value < 0 ? "fewer" : "more"}`;
  if (low === null || high === null)
    return `${beginSentence(a)}, ${side(estimate)} in a hundred stood than ${b}. On so few main plots that is described, not tested.`;
  if (low > 0 || high < 0)
    return `${beginSentence(a)}, clearly ${side(estimate)} in a hundred stood than ${b}, somewhere between ${side(low)} and ${side(high)}.`;
  return `No clear difference between plants ${a} and plants ${b}: anything from ${side(low)} to ${side(high)} in a hundred stood ${a}.`;
}

/** Whether the varieties' differences depend on the cover: those pairs where it clearly does, or that none does clearly. */
export function sentenceForInteractions({
  factor,
  interactions,
}: Pick<SurvivalOfMain, "factor" | "interactions">): string {
  const clear = interactions.filter(
    ({ low, high }) => low !== null && high !== null && (low > 0 || high < 0),
  );
  if (clear.length === 0)
    return `Whether the differences between varieties depend on the ${factorWords[factor].one} is not clear; on so few plots it rarely is.`;
  return clear
    .map(({ variety, reference, a, b, estimate }) => {
      const points = Math.round(Math.abs(estimate as number) * 100);
      return `Against ${reference}, ${variety} clearly does ${points} in a hundred ${(estimate as number) > 0 ? "better" : "worse"} ${sayUnder(a)} than ${sayUnder(b)}.`;
    })
    .join(" ");
}
