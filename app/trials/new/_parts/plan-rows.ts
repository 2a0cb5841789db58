/** Places of the variety rows: the check and the tender check have rows of their own, the rest are on trial. */
export const checkRow = 0;
export const tenderRow = 1;
export const firstTrialRow = 2;

/** Sowing dates that may be compared with the first. */
export const sowingRows = 3;

/** Rows that a plan begins with, for each list of the form. */
const fewestRows = { entries: 6, newBeds: 0, covers: 1, levels: 2, inTheWay: 1, companions: 1 } as const;
export type RowList = keyof typeof fewestRows;

const mostRows = { entries: 60, newBeds: 6, covers: 4, levels: 4, inTheWay: 6, companions: 3 } as const;

/** How many rows of a list the form shows: as many as were sent, at least as many as it begins with. */
export function rowCount(values: Record<string, string>, list: RowList): number {
  const shown = Number(values[`rows.${list}`]);
  const asked = Number.isInteger(shown) ? shown : 0;
  return Math.min(mostRows[list], Math.max(fewestRows[list], asked));
}

/** The same values with one row more in a list. */
export function withRow(values: Record<string, string>, list: RowList): Record<string, string> {
  return { ...values, [`rows.${list}`]: String(rowCount(values, list) + 1) };
}
