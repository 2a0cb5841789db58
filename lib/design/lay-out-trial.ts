import { type Outcome, success } from "@/lib/words/fault";
import type { Plot } from "@/lib/words/trial";
import { dealCrd } from "./deal-crd";
import { dealRcbd } from "./deal-rcbd";
import { type Cell, type FitRequest, fitBed } from "./fit-bed";
import { plotCode } from "./plot-code";

export interface LayoutRequest extends Omit<FitRequest, "entries"> {
  /** Ids of the varieties' entries, in the trial's order. */
  entries: string[];
  seed: number;
}

/** A plot with its place and variety, before it is stored under an id. */
export type LaidPlot = Omit<Plot, "id">;

function inBlocks(cells: readonly Cell[]): Cell[][] {
  const blocks = new Map<number | null, Cell[]>();
  for (const cell of cells) blocks.set(cell.block, [...(blocks.get(cell.block) ?? []), cell]);
  return [...blocks.values()];
}

/**
 * Lays a trial out: fits its plots to the beds and deals the varieties to them from the seed. The same request gives
 * the same layout on any machine. Refused as `fitBed` refuses.
 */
export function layOutTrial(request: LayoutRequest): Outcome<{ plots: LaidPlot[] }> {
  const { design, entries, blocks, seed, plantsPerPlot } = request;
  const fit = fitBed({ ...request, entries: entries.length });
  if (!fit.ok) return fit;
  const { cells, widthMm, lengthMm, plantRows } = fit.value;
  const runs = inBlocks(cells);
  const deal = design === "rcbd" ? dealRcbd(entries, blocks, seed) : [dealCrd(entries, blocks, seed)];
  const plots = runs.flatMap((run, block) =>
    run.map((cell, position) => ({
      ...cell,
      code: plotCode(cell.block, position + 1),
      entryId: deal[block][position],
      widthMm,
      lengthMm,
      plants: plantsPerPlot,
      plantRows,
    })),
  );
  return success({ plots });
}
