import type { Difference } from "@/lib/analysis/finding";
import { inAHundred } from "@/lib/words/say-number";

function points(share: number): number {
  return inAHundred(Math.abs(share));
}

function moreOrFewer(share: number): string {
  const size = points(share);
  if (size === 0) return "none";
  return `${size} ${share > 0 ? "more" : "fewer"}`;
}

/**
 * How a variety stood against another, with its limits: *Pennick stood clearly better than Hollin: 38 more in a
 * hundred, somewhere between 9 and 60 more.* Limits on both sides of nought say *no clear difference*, and how far it
 * may go either way; they never say that there is no difference.
 */
export function sentenceForDifference(difference: Difference): string {
  const { variety, reference, estimate, low, high } = difference;
  if (estimate === null || low === null || high === null)
    return `${variety} and ${reference} cannot be compared.`;
  if (low > 0 || high < 0) {
    const word = low > 0 ? "better" : "worse";
    const side = low > 0 ? "more" : "fewer";
    const [near, far] = [points(low), points(high)].sort((a, b) => a - b);
    return `${variety} stood clearly ${word} than ${reference}: ${points(estimate)} ${side} in a hundred, somewhere between ${near} and ${far} ${side}.`;
  }
  return `No clear difference between ${variety} and ${reference}: ${variety} kept anything from ${moreOrFewer(low)} to ${moreOrFewer(high)} in a hundred.`;
}
