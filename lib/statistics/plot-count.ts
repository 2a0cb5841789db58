import { insist } from "./requirement";

/** The layouts whose terms survival is fitted on: variety alone; variety + block; variety + rows + columns. */
export type Layout = "crd" | "rcbd" | "latin";

/** How many of a plot's plants stand. A plot with `setOut` 0 tells nothing and counts for nothing. */
export interface PlotCount {
  variety: string;
  /** Needed by `rcbd`; null otherwise. */
  block: string | null;
  /** Needed by `latin`; null otherwise. */
  row: number | null;
  column: number | null;
  setOut: number;
  standing: number;
}

/** Stops at a plot whose counts or place cannot be meant. */
export function insistOnPlots(statistic: string, plots: readonly PlotCount[], layout: Layout): void {
  for (const { standing, setOut, block, row, column } of plots) {
    insist(
      standing >= 0 && standing <= setOut && Number.isFinite(setOut),
      statistic,
      "0 ≤ standing ≤ setOut",
      () => `${standing} of ${setOut}`,
    );
    insist(
      layout !== "rcbd" || block !== null,
      statistic,
      "a block for every plot of a layout in blocks",
      "none",
    );
    insist(
      layout !== "latin" || (row !== null && column !== null),
      statistic,
      "a row and a column for every plot of a Latin square",
      "none",
    );
  }
}

/** Codes 0, 1, 2 … in order of first appearance. */
export function numbered(names: readonly unknown[]): number[] {
  const seen = new Map<unknown, number>();
  return names.map((name) => {
    if (!seen.has(name)) seen.set(name, seen.size);
    return seen.get(name) as number;
  });
}

/** The terms of a layout other than variety, each as a code per plot. */
export function layoutTerms(plots: readonly PlotCount[], layout: Layout): number[][] {
  if (layout === "rcbd") return [numbered(plots.map((plot) => plot.block))];
  if (layout === "latin")
    return [numbered(plots.map((plot) => plot.row)), numbered(plots.map((plot) => plot.column))];
  return [];
}
