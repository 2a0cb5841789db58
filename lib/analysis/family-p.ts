import { holm } from "@/lib/statistics/holm";

/** Comparisons that each have a p of their own, with p for all of them together beside it. */
export function withFamilyP<Row extends { p: number | null }>(
  rows: Row[],
): (Row & { pFamily: number | null })[] {
  const family = holm(rows.map(({ p }) => p));
  return rows.map((row, place) => ({ ...row, pFamily: family[place] }));
}
