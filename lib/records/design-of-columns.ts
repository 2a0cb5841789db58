import type { Fault } from "@/lib/words/fault";
import type { Design } from "@/lib/words/trial";
import type { PlotRow } from "./read-plots";

const neededColumns: Record<Design, (keyof PlotRow)[]> = {
  crd: [],
  rcbd: ["block"],
  latin: ["row", "column"],
  "split-plot": ["block", "mainPlot"],
  augmented: ["block"],
  "incomplete-blocks": ["replicate", "block"],
};
const columnNames: Partial<Record<keyof PlotRow, string>> = { mainPlot: "main_plot" };

function isFilled(plots: readonly PlotRow[], column: keyof PlotRow): boolean {
  return plots.some((plot) => plot[column] !== null);
}

/** The design that the filled columns speak of; a file of one block, or of none, is completely randomised. */
export function designOfColumns(plots: readonly PlotRow[]): Design {
  if (isFilled(plots, "mainPlot")) return "split-plot";
  if (isFilled(plots, "block")) {
    const blocks = new Set(plots.map((plot) => `${plot.replicate} / ${plot.block}`));
    const replicates = new Set(plots.map((plot) => plot.replicate));
    if (!isFilled(plots, "replicate")) return "rcbd";
    const isNested = blocks.size > replicates.size && replicates.size > 1;
    return isNested && !isRenamed(plots) ? "incomplete-blocks" : "rcbd";
  }
  if (isFilled(plots, "replicate")) return "rcbd";
  return isSquare(plots) ? "latin" : "crd";
}

/** Whether every block holds every variety, so that replicates are only blocks by another name, or a further grouping. */
function isRenamed(plots: readonly PlotRow[]): boolean {
  const varieties = new Set(plots.map((plot) => plot.variety));
  const perBlock = new Map<string, Set<string>>();
  for (const plot of plots) {
    const block = `${plot.replicate} / ${plot.block}`;
    perBlock.set(block, (perBlock.get(block) ?? new Set()).add(plot.variety));
  }
  return [...perBlock.values()].every((held) => held.size === varieties.size);
}

function isSquare(plots: readonly PlotRow[]): boolean {
  const order = new Set(plots.map((plot) => plot.variety)).size;
  const cells = plots.flatMap((plot) => [
    `row ${plot.row} ${plot.variety}`,
    `column ${plot.column} ${plot.variety}`,
    `place ${plot.row} ${plot.column}`,
  ]);
  const isPlaced = plots.every((plot) => plot.row !== null && plot.column !== null);
  return order > 1 && isPlaced && plots.length === order ** 2 && new Set(cells).size === 3 * order ** 2;
}

/** A trial in complete blocks may name them as replicates. */
export function blocksFromReplicates(plots: readonly PlotRow[], design: Design): readonly PlotRow[] {
  if (design === "incomplete-blocks" || isFilled(plots, "block")) return plots;
  return plots.map((plot) => ({ ...plot, block: plot.replicate }));
}

/** What a design asks of every plot and the file does not say. */
export function designFaults(plots: readonly PlotRow[], design: Design, plotsFile: string): Fault[] {
  const faults = plots.flatMap((plot) =>
    neededColumns[design].flatMap((column) =>
      plot[column] === null
        ? [
            {
              place: `${plotsFile}:${plot.line}:${columnNames[column] ?? column}`,
              found: "nothing",
              wanted: `a value for every plot of the design ${design}`,
            },
          ]
        : [],
    ),
  );
  const isDealt = (["cover", "sownOn", "companion"] as const).some(
    (column) => new Set(plots.map((plot) => plot[column])).size > 1,
  );
  if (design === "split-plot" && !isDealt)
    faults.push({
      place: `${plotsFile}:1:cover`,
      found: "one treatment",
      wanted: "a cover, a sown_on or a companion that differs between main plots",
    });
  return faults;
}
