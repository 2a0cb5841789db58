import type { YieldAnalysis, YieldOfMain } from "@/lib/analysis/finding";
import { beginSentence } from "@/lib/words/begin-sentence";
import { sayRounded } from "@/lib/words/say-number";
import { sayUnder } from "@/lib/words/say-under";
import { yieldPerWords } from "./sentence-for-yield";

/**
 * What was picked under each cover, or from each sowing, all varieties together, and how two of them differ: *Under
 * fleece, the yield was 5.3 g a plant set out over 12 plots, somewhere between 4.9 and 5.6.*
 */
export function sentencesForYieldOfMain(
  { means, pairs }: YieldOfMain,
  { per, unit }: Pick<YieldAnalysis, "per" | "unit">,
): string[] {
  return [
    ...means.map((mean) => sentenceForMean(mean, per, unit)),
    ...pairs.map((pair) => sentenceForPair(pair, per, unit)),
  ];
}

function sentenceForMean(
  { treatment, plots, mean, se, low, high }: YieldOfMain["means"][number],
  per: YieldAnalysis["per"],
  unit: string,
): string {
  const where = beginSentence(sayUnder(treatment));
  if (mean === null) return `${where}, no yield can be given.`;
  const given = `${where}, the yield was ${sayRounded(mean, se ?? mean / 10)} ${unit} ${yieldPerWords[per]} over ${plots} ${plots === 1 ? "plot" : "plots"}`;
  return low === null || high === null
    ? `${given}; how far that can be trusted cannot be worked out.`
    : `${given}, somewhere between ${sayRounded(Math.max(0, low), se)} and ${sayRounded(high, se)}.`;
}

function sentenceForPair(
  pair: YieldOfMain["pairs"][number],
  per: YieldAnalysis["per"],
  unit: string,
): string {
  const [a, b] = [sayUnder(pair.a), sayUnder(pair.b)];
  const { estimate, low, high, se } = pair;
  if (estimate === null || low === null || high === null)
    return `Yields of plants ${a} and of plants ${b} cannot be compared.`;
  const side = (value: number) => `${sayRounded(Math.abs(value), se)} ${value < 0 ? "less" : "more"}`;
  const ends = `${side(low)} and ${side(high)}`;
  const by = `${sayRounded(Math.abs(estimate), se)} ${unit} ${yieldPerWords[per]}`;
  return low > 0 || high < 0
    ? `${beginSentence(a)}, the yield was clearly ${estimate < 0 ? "lower" : "higher"} than ${b}: by ${by}, somewhere between ${ends}.`
    : `No clear difference in yield between plants ${a} and plants ${b}: anything from ${side(low)} to ${side(high)}, in ${unit} ${yieldPerWords[per]}, ${a}.`;
}
