import type { TrialFindings } from "@/lib/analysis/finding";
import { sayDecimal } from "@/lib/words/say-number";

/** How the figures were made, as one short paragraph for print. */
export function methodsParagraph({ survival, yield: harvest }: TrialFindings): string {
  const sentences: string[] = ["The plot is the unit: plants of one plot share their fate."];
  if (survival) {
    const { icc, df } = survival.value;
    sentences.push(
      `Shares of plants stand with ${Math.round(survival.level * 100)} % limits by Wilson’s interval at effective plants, plants cut down by the clumping that the plots show${icc === null ? "" : ` (intra-class correlation put at ${sayDecimal(icc, 2)} on ${df} degrees of freedom, with a general expectation as prior)`}; differences are Newcombe’s. The construction is this program’s own, of published parts.`,
    );
  }
  if (harvest) {
    const { model, picks, residualDf } = harvest.value;
    sentences.push(
      `Yield is in ${harvest.scale} over ${picks.days.length} ${picks.days.length === 1 ? "pick" : "picks"} of every plot, by the model ${model} on ${sayDecimal(residualDf, 0)} residual degrees of freedom; multiples of the check are taken on logs, differences to the check are Dunnett’s.`,
    );
  }
  sentences.push(
    "The results page holds the working in full and a script that makes the figures again in R.",
  );
  return sentences.join(" ");
}

/** Where the methods come from, each source once. */
export function methodSources({ survival, yield: harvest }: TrialFindings): string[] {
  return [...new Set([...(survival?.method.sources ?? []), ...(harvest?.method.sources ?? [])])];
}
