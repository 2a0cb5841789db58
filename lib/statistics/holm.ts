import { insist } from "./requirement";

/**
 * Holm's step-down adjustment of p-values: the chance of any false alarm among them stays at the level.
 *
 * For a handful of questions that are neither all pairs nor all against one check. An entry that is null (not given)
 * stays null and does not count.
 *
 * @returns adjusted p in the order given, at most 1
 *
 * Source: holm-1979.
 * Checked: tests/reference/multiple-comparisons (R p.adjust).
 * Example: 0.01, 0.04, 0.03 → 0.03, 0.06, 0.06.
 */
export function holm(pValues: readonly (number | null)[]): (number | null)[] {
  for (const p of pValues) insist(p === null || (p >= 0 && p <= 1), "holm", "0 ≤ p ≤ 1", p ?? "");
  const order = pValues
    .flatMap((p, place) => (p === null ? [] : [{ p, place }]))
    .sort((one, other) => one.p - other.p);
  const adjusted: (number | null)[] = pValues.map(() => null);
  let least = 0;
  for (const [rank, { p, place }] of order.entries()) {
    least = Math.max(least, Math.min(1, (order.length - rank) * p));
    adjusted[place] = least;
  }
  return adjusted;
}
