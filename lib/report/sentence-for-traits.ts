import type { CountAnalysis, ScoreAnalysis } from "@/lib/analysis/finding";
import { inAHundred, sayDecimal } from "@/lib/words/say-number";

function plain(value: number): string {
  return sayDecimal(value, Number.isInteger(value) ? 0 : 1);
}

/** A variety's scores of a trait: *Pennick: 6 in the middle of 3 plots, from 5 to 7.* */
export function sentenceForScores(
  scores: ScoreAnalysis["varieties"][number],
  unit: ScoreAnalysis["unit"],
): string {
  const { variety, plots, median, lowest, highest } = scores;
  const sign = unit === "percent" ? " %" : "";
  if (plots === 1) return `${variety}: ${plain(median)}${sign} in its one plot.`;
  return `${variety}: ${plain(median)}${sign} in the middle of ${plots} plots, from ${plain(lowest)} to ${plain(highest)}${sign}.`;
}

/** How a variety's scores lie to the check's, as how often a plot of it scores higher. */
export function sentenceForScoreDifference(difference: ScoreAnalysis["differences"][number]): string {
  const { variety, reference, superiority, low, high } = difference;
  if (superiority === null || low === null || high === null)
    return `${variety} and ${reference} cannot be compared.`;
  const range = `somewhere between ${inAHundred(low)} and ${inAHundred(high)} times in 100`;
  if (low > 0.5) return `${variety} clearly scores higher than ${reference}: ${range}.`;
  if (high < 0.5) return `${variety} clearly scores lower than ${reference}: it is the higher ${range}.`;
  return `No clear difference in score between ${variety} and ${reference}: ${variety} is the higher ${range}.`;
}

/** How a variety's counts lie to the check's, as a multiple of its rate. */
export function sentenceForCountDifference(difference: CountAnalysis["differences"][number]): string {
  const { variety, reference, ratio, low, high } = difference;
  if (ratio === null || low === null || high === null)
    return `${variety} and ${reference} cannot be compared.`;
  const range = `somewhere between ${sayDecimal(low, 2)} and ${sayDecimal(high, 2)} times`;
  if (low > 1)
    return `${variety} clearly had more than ${reference}: ${sayDecimal(ratio, 2)} times as many, ${range}.`;
  if (high < 1)
    return `${variety} clearly had fewer than ${reference}: ${sayDecimal(ratio, 2)} times as many, ${range}.`;
  return `No clear difference between ${variety} and ${reference}: ${range} as many.`;
}
