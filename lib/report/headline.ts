import type { Difference, Survival, TrialFindings, YieldAnalysis } from "@/lib/analysis/finding";

function listed(names: string[]): string {
  if (names.length <= 1) return names.join("");
  return `${names.slice(0, -1).join(", ")} and ${names[names.length - 1]}`;
}

/** More pairs than this are counted, not named. */
const mostPairsNamed = 8;

interface Limits {
  low: number | null;
  high: number | null;
}

function clearlyAbove({ low }: Limits): boolean {
  return low !== null && low > 0;
}

function clearlyBelow({ high }: Limits): boolean {
  return high !== null && high < 0;
}

/** Which varieties did clearly more or less than the check, and which the bed could not tell from it. */
function againstCheck(
  check: string,
  differences: (Limits & { variety: string })[],
  words: { more: string; less: string },
): string {
  const better = differences.filter(clearlyAbove).map((difference) => difference.variety);
  const worse = differences.filter(clearlyBelow).map((difference) => difference.variety);
  const unclear = differences
    .filter((difference) => !clearlyAbove(difference) && !clearlyBelow(difference))
    .map((difference) => difference.variety);
  if (better.length + worse.length === 0)
    return `No clear difference from the check ${check} for ${listed(unclear)}.`;
  const parts = [
    better.length > 0 ? `${listed(better)} ${words.more} than the check ${check}` : null,
    worse.length > 0 ? `${listed(worse)} ${words.less} than the check ${check}` : null,
    unclear.length > 0 ? `no clear difference from it for ${listed(unclear)}` : null,
  ];
  return `${parts.filter((part) => part !== null).join("; ")}.`;
}

function survivalHeadline({ varieties, differences, pairs }: Survival, check: string | null): string {
  const told = varieties.filter((variety) => variety.plants - variety.censored > 0);
  if (told.every((variety) => variety.standing === variety.plants - variety.censored))
    return "Nothing was lost, so this bed does not tell the varieties apart.";
  if (told.every((variety) => variety.standing === 0))
    return "Nothing stood, so this bed does not tell the varieties apart.";
  if (check && differences.length > 0)
    return againstCheck(check, differences, { more: "stood clearly better", less: "stood clearly worse" });
  const sayPair = (pair: Difference) =>
    clearlyAbove(pair) ? `${pair.variety} than ${pair.reference}` : `${pair.reference} than ${pair.variety}`;
  const clear = pairs.filter((pair) => clearlyAbove(pair) || clearlyBelow(pair)).map(sayPair);
  if (clear.length === 0) return "No clear difference between any two varieties.";
  if (clear.length > mostPairsNamed)
    return `${clear.length} of ${pairs.length} pairs of varieties stood clearly apart.`;
  return `Stood clearly better: ${listed(clear)}.`;
}

function yieldHeadline({ varieties, differences, pairs }: YieldAnalysis, check: string | null): string {
  if (varieties.every((variety) => variety.mean === 0))
    return "No plot yielded anything, so this bed does not tell the varieties apart.";
  if (check && differences.length > 0)
    return againstCheck(check, differences, { more: "clearly yielded more", less: "clearly yielded less" });
  const clear = pairs
    .filter((pair) => clearlyAbove(pair) || clearlyBelow(pair))
    .map((pair) => (clearlyAbove(pair) ? `${pair.a} than ${pair.b}` : `${pair.b} than ${pair.a}`));
  if (clear.length === 0) return "No clear difference in yield between any two varieties.";
  if (clear.length > mostPairsNamed)
    return `${clear.length} of ${pairs.length} pairs of varieties yielded clearly apart.`;
  return `Clearly yielded more: ${listed(clear)}.`;
}

/**
 * The trial's answer in a sentence: which varieties clearly stood better or worse than the check (or than another,
 * without one), and what the bed could not tell apart. Where nothing was told of the plants it speaks of yield.
 */
export function headline(findings: TrialFindings): string {
  const { check, varieties } = findings.trial;
  if (varieties.length < 2) return "One variety alone: there is nothing to compare it with.";
  if (findings.survival) return survivalHeadline(findings.survival.value, check);
  if (findings.yield) return yieldHeadline(findings.yield.value, check);
  return "Nothing has been recorded that tells the varieties apart.";
}
