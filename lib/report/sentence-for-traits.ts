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

/** With fewer plots each than this the limits by ranks are too bold to call anything clear (common practice). */
const fewestScoredPlots = 6;

/**
 * How a variety's scores lie to the check's, as how often a plot of it scores higher.
 *
 * @param plots how many plots the one of the two has that has fewer
 */
export function sentenceForScoreDifference(
  difference: ScoreAnalysis["differences"][number],
  plots: number,
): string {
  const { variety, reference, superiority, low, high } = difference;
  if (superiority === null || low === null || high === null)
    return `${variety} and ${reference} cannot be compared.`;
  const range = `somewhere between ${inAHundred(low)} and ${inAHundred(high)} times in 100`;
  if (low <= 0.5 && high >= 0.5)
    return `No clear difference in score between ${variety} and ${reference}: ${variety} is the higher ${range}.`;
  const side = low > 0.5 ? "higher" : "lower";
  if (plots < fewestScoredPlots)
    return `${variety} scored ${side} than ${reference} in this bed; ${plots} ${plots === 1 ? "plot" : "plots"} of each are too few to call that clear.`;
  if (low > 0.5) return `${variety} clearly scores higher than ${reference}: ${range}.`;
  return `${variety} clearly scores lower than ${reference}: it is the higher ${range}.`;
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
  return `No clear difference between ${variety} and ${reference}: ${variety} had ${range} as many.`;
}
