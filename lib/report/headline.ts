import type { Difference, TrialFindings } from "@/lib/analysis/finding";

function listed(names: string[]): string {
  if (names.length <= 1) return names.join("");
  return `${names.slice(0, -1).join(", ")} and ${names[names.length - 1]}`;
}

function clearlyAbove(difference: Difference): boolean {
  return difference.low !== null && difference.low > 0;
}

function clearlyBelow(difference: Difference): boolean {
  return difference.high !== null && difference.high < 0;
}

/**
 * The trial's answer in a sentence or two: which varieties clearly stood better or worse than the check (or than
 * another, without one), and what the bed could not tell apart.
 */
export function headline(findings: TrialFindings): string {
  const survival = findings.survival?.value;
  if (!survival) return "Nothing has been seen of the plants yet, so nothing can be said of their survival.";
  const alive = survival.varieties.filter((variety) => variety.plants > 0);
  if (alive.length > 0 && alive.every((variety) => variety.standing === variety.plants - variety.censored))
    return "Nothing was lost, so this bed does not tell the varieties apart.";
  if (alive.length > 0 && alive.every((variety) => variety.standing === 0))
    return "Nothing stood, so this bed does not tell the varieties apart.";
  const { check } = findings.trial;
  if (check) {
    const better = survival.differences.filter(clearlyAbove).map((difference) => difference.variety);
    const worse = survival.differences.filter(clearlyBelow).map((difference) => difference.variety);
    const unclear = survival.differences
      .filter((difference) => !clearlyAbove(difference) && !clearlyBelow(difference))
      .map((difference) => difference.variety);
    const parts = [
      better.length > 0 ? `${listed(better)} stood clearly better than the check ${check}` : null,
      worse.length > 0 ? `${listed(worse)} stood clearly worse than the check ${check}` : null,
      unclear.length > 0
        ? `${better.length + worse.length > 0 ? "between" : "Between"} ${listed(unclear)} and ${better.length + worse.length > 0 ? "it" : `the check ${check}`} there is no clear difference`
        : null,
    ].filter((part) => part !== null);
    return `${parts.join("; ")}.`;
  }
  const clear = survival.pairs
    .filter((pair) => clearlyAbove(pair) || clearlyBelow(pair))
    .map((pair) =>
      clearlyAbove(pair)
        ? `${pair.variety} than ${pair.reference}`
        : `${pair.reference} than ${pair.variety}`,
    );
  if (clear.length === 0) return "No clear difference between any two varieties.";
  return `Stood clearly better: ${listed(clear)}.`;
}
