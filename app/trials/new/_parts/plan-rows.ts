import type { EntryRole } from "@/lib/words/trial";

/** Places of the variety rows: the check and the tender check have rows of their own, the rest are on trial. */
export const checkRow = 0;
export const tenderRow = 1;
export const firstTrialRow = 2;

/** Sowing dates that may be compared with the first. */
export const sowingRows = 3;

/** Rows that a plan begins with, for each list of the form. */
const fewestRows = { entries: 6, newBeds: 0, covers: 1, levels: 2, inTheWay: 1, companions: 1 } as const;
export type RowList = keyof typeof fewestRows;

const mostRows = { entries: 62, newBeds: 6, covers: 4, levels: 4, inTheWay: 6, companions: 3 } as const;

/** How many rows of a list the form shows: as many as were sent, at least as many as it begins with. */
export function rowCount(values: Record<string, string>, list: RowList): number {
  const shown = Number(values[`rows.${list}`]);
  const asked = Number.isInteger(shown) ? shown : 0;
  return Math.min(mostRows[list], Math.max(fewestRows[list], asked));
}

/** The same values with their varieties filled in anew; whoever is the check goes into the check's row. */
export function withEntries(
  values: Record<string, string>,
  entries: readonly { variety: string; packetClaim: string | null; role: EntryRole }[],
): Record<string, string> {
  const next = Object.fromEntries(Object.entries(values).filter(([name]) => !/^entries\.\d+\./.test(name)));
  let free = firstTrialRow;
  for (const { variety, packetClaim, role } of entries) {
    const row = role === "check" ? checkRow : role === "tender-check" ? tenderRow : free++;
    next[`entries.${row}.variety`] = variety;
    next[`entries.${row}.packetClaim`] = packetClaim ?? "";
  }
  // A list that names no check leaves the one that there is.
  for (const row of [checkRow, tenderRow])
    for (const part of ["variety", "packetClaim"])
      next[`entries.${row}.${part}`] ??= values[`entries.${row}.${part}`] ?? "";
  return { ...next, "rows.entries": String(free), entryList: "" };
}

/** The same values with one row more in a list. */
export function withRow(values: Record<string, string>, list: RowList): Record<string, string> {
  return { ...values, [`rows.${list}`]: String(rowCount(values, list) + 1) };
}
