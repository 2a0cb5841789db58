import type { Day } from "@/lib/words/day";
import { type Fault, type Outcome, refusal, success } from "@/lib/words/fault";
import { cellReader, type FileManner } from "./cell-reader";
import { readTable, type TableRow } from "./read-table";

/** One row of `plots.csv`. What the file does not say is null. */
export interface PlotRow {
  line: number;
  plot: string;
  variety: string;
  replicate: string | null;
  block: string | null;
  mainPlot: string | null;
  row: number | null;
  column: number | null;
  cover: string | null;
  /** The crop that stood between the plants. */
  companion: string | null;
  sownOn: Day | null;
  plantedOn: Day | null;
  plants: number | null;
  areaM2: number | null;
  /** Columns that the format does not know, by name. */
  notes: Record<string, string>;
}

export interface PlotsFile {
  rows: PlotRow[];
  unknownColumns: string[];
}

const required = ["plot", "variety"];
const optional = [
  "replicate",
  "block",
  "main_plot",
  "row",
  "column",
  "cover",
  "companion",
  "sown_on",
  "planted_on",
  "plants",
  "area_m2",
];

/** The columns of the format, those that must be there first. */
export const plotColumns = { required, optional };

/** Reads the rows of one file of plots in turn, each under a name of its own. A row with faults is never to be used. */
export function plotReader(manner?: FileManner): (row: TableRow, faults: Fault[]) => PlotRow {
  const lineOf = new Map<string, number>();
  return (row, faults) => {
    const cell = cellReader(row, faults, manner);
    const plot = cell.text("plot", 80);
    const variety = cell.text("variety", 80);
    if (plot === null) cell.refuse("plot", "the plot's name");
    if (variety === null) cell.refuse("variety", "the variety's name");
    const earlier = plot === null ? undefined : lineOf.get(plot);
    if (earlier !== undefined) cell.refuse("plot", `a name of its own: line ${earlier} has it already`);
    else if (plot !== null) lineOf.set(plot, row.line);
    const sownOn = cell.day("sown_on");
    const plantedOn = cell.day("planted_on");
    if (sownOn && plantedOn && plantedOn < sownOn)
      cell.refuse("planted_on", `the sowing date, ${sownOn}, or later`);
    return {
      line: row.line,
      plot: plot ?? "",
      variety: variety ?? "",
      replicate: cell.text("replicate", 80),
      block: cell.text("block", 80),
      mainPlot: cell.text("main_plot", 80),
      row: cell.number("row", { whole: true, minimum: 1, maximum: 100_000 }),
      column: cell.number("column", { whole: true, minimum: 1, maximum: 100_000 }),
      cover: cell.text("cover", 80),
      companion: cell.text("companion", 80),
      sownOn,
      plantedOn,
      plants: cell.number("plants", { whole: true, minimum: 1, maximum: 100_000 }),
      areaM2: cell.number("area_m2", {
        minimum: 0.0001,
        maximum: 1_000_000,
        wanted: "an area in m² above 0",
      }),
      notes: row.notes,
    };
  };
}

/**
 * Reads `plots.csv`: every row, or every fault with its place as `file:line:column`, what was found and what is wanted.
 * Columns may come in any order; unknown ones are kept as notes and named.
 *
 * @param text the file's content, decoded as UTF-8
 * @param file its name, for the places of faults
 */
export function readPlots(text: string, file: string): Outcome<PlotsFile> {
  const table = readTable(text, file, required, optional);
  if (!table.ok) return table;
  const faults: Fault[] = [];
  const read = plotReader();
  const rows = table.value.rows.map((row) => read(row, faults));
  return faults.length > 0 ? refusal(faults) : success({ rows, unknownColumns: table.value.unknownColumns });
}
