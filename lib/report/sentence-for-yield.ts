import type { YieldAnalysis, YieldDifference, YieldMean } from "@/lib/analysis/finding";
import { sayDecimal, sayRounded } from "@/lib/words/say-number";

/** What a yield is given by. */
export const yieldPerWords: Record<YieldAnalysis["per"], string> = {
  plant: "a plant set out",
  m2: "a square metre",
  standing: "a plant standing",
  plot: "a plot",
};

/** A variety's mean yield with its limits: *Pennick gave 141 g a plant set out, somewhere between 120 and 163.* */
export function sentenceForYield(mean: YieldMean, per: YieldAnalysis["per"], unit: string): string {
  const { variety, plots, mean: value, low, high, se } = mean;
  if (value === null) return `${variety}: no yield can be given.`;
  const where = `over ${plots} ${plots === 1 ? "plot" : "plots"}`;
  if (low === null || high === null)
    return `${variety} gave ${sayRounded(value, value / 10)} ${unit} ${yieldPerWords[per]} ${where}; how far that can be trusted cannot be worked out.`;
  return `${variety} gave ${sayRounded(value, se)} ${unit} ${yieldPerWords[per]} ${where}, somewhere between ${sayRounded(Math.max(0, low), se)} and ${sayRounded(high, se)}.`;
}

/** A multiple; one that only rounding makes 1.00 says on which side of it it lies. */
function sayTimes(ratio: number): string {
  const said = sayDecimal(ratio, 2);
  if (said !== "1.00" || ratio === 1) return said;
  return ratio > 1 ? "just over 1" : "just under 1";
}

/**
 * How a variety yielded against the check, as a multiple of it where one can be given, else as a difference. Plots that
 * yielded nothing are always told.
 */
export function sentenceForYieldDifference(difference: YieldDifference, unit: string): string {
  const { variety, reference, ratio, ratioLow, ratioHigh, estimate, low, high, se, plotsWipedOut } =
    difference;
  const wiped =
    plotsWipedOut > 0
      ? ` ${plotsWipedOut === 1 ? "One plot" : `${plotsWipedOut} plots`} of ${variety} yielded nothing.`
      : "";
  if (ratio !== null && ratioLow !== null && ratioHigh !== null) {
    const range = `somewhere between ${sayTimes(ratioLow)} and ${sayTimes(ratioHigh)} times`;
    if (ratioLow > 1)
      return `${variety} clearly out-yielded ${reference}: ${sayDecimal(ratio, 2)} times as much, ${range}.${wiped}`;
    if (ratioHigh < 1)
      return `${variety} clearly yielded less than ${reference}: ${sayDecimal(ratio, 2)} times as much, ${range}.${wiped}`;
    return `No clear difference in yield between ${variety} and ${reference}: ${variety} gave ${range} as much.${wiped}`;
  }
  if (estimate === null || low === null || high === null)
    return `${variety} and ${reference} cannot be compared in yield.${wiped}`;
  const size = (value: number) => `${sayRounded(Math.abs(value), se)} ${unit}`;
  const side = (value: number) => `${size(value)} ${value < 0 ? "less" : "more"}`;
  if (low > 0 || high < 0)
    return `${variety} clearly yielded ${low > 0 ? "more" : "less"} than ${reference}: ${size(estimate)}, somewhere between ${side(low)} and ${side(high)}.${wiped}`;
  return `No clear difference in yield between ${variety} and ${reference}: ${variety} gave anything from ${side(low)} to ${side(high)}.${wiped}`;
}
