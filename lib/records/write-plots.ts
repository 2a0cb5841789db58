import type { PlotRow } from "./read-plots";
import { type TableField, writeTable } from "./write-table";

/** The columns of `plots.csv`. */
export const plotFields: readonly TableField[] = [
  {
    name: "plot",
    type: "string",
    description: "The plot's code",
    constraints: { required: true, unique: true },
    miappe: "obsUnitId",
  },
  { name: "variety", type: "string", description: "What grew there", constraints: { required: true } },
  { name: "replicate", type: "string", description: "The complete replicate that holds the block" },
  { name: "block", type: "string", description: "The block that holds the plot" },
  { name: "main_plot", type: "string", description: "The main plot within its block" },
  { name: "row", type: "integer", description: "Place along the bed", constraints: { minimum: 1 } },
  { name: "column", type: "integer", description: "Place across the bed", constraints: { minimum: 1 } },
  { name: "cover", type: "string", description: "What stood over it; blank is open ground" },
  {
    name: "companion",
    type: "string",
    description: "The crop between its plants, where that differs between plots",
  },
  { name: "sown_on", type: "date", description: "The day of sowing" },
  { name: "planted_on", type: "date", description: "The day of setting out" },
  {
    name: "plants",
    type: "integer",
    description: "Plants set out on that day",
    constraints: { minimum: 1 },
  },
  { name: "area_m2", type: "number", description: "Its area in square metres" },
];

/** Writes `plots.csv`, which `readPlots` reads back the same. */
export function writePlots(rows: readonly Omit<PlotRow, "line" | "notes">[]): string {
  return writeTable(
    plotFields,
    rows.map((row) => [
      row.plot,
      row.variety,
      row.replicate,
      row.block,
      row.mainPlot,
      row.row,
      row.column,
      row.cover,
      row.companion,
      row.sownOn,
      row.plantedOn,
      row.plants,
      row.areaM2,
    ]),
  );
}
