import { type Outcome, refusal, success } from "@/lib/words/fault";
import type { Plot } from "@/lib/words/trial";
import { dealAlpha } from "./deal-alpha";
import { dealAugmented } from "./deal-augmented";
import { dealCrd } from "./deal-crd";
import { dealLatinSquare } from "./deal-latin-square";
import { dealRcbd } from "./deal-rcbd";
import { dealSplitPlot } from "./deal-split-plot";
import { designMisfits } from "./design-misfits";
import { type Cell, type FitRequest, fitBed } from "./fit-bed";
import { plotCode } from "./plot-code";

export interface LayoutRequest extends Omit<FitRequest, "entries" | "checks" | "levels"> {
  /** Ids of the varieties' entries, in the trial's order. */
  entries: string[];
  /** Ids of the entries that are checks; an augmented layout has them in every block. */
  checks?: string[];
  /** Ids of what is dealt to main plots: covers, or sowing dates. */
  levels?: string[];
  seed: number;
}

/** A plot with its place and variety, before it is stored under an id. */
export interface LaidPlot extends Omit<Plot, "id"> {
  /** The complete replicate, from 1, where blocks are incomplete; otherwise null. */
  replicate: number | null;
  /** The main plot's number in its block, and what was dealt to it; null but in a split plot. */
  mainPlot: string | null;
  level: string | null;
}

/** What was dealt to one run of plots, and what the run is called. */
interface DealtRun {
  block: number | null;
  replicate: number | null;
  mainPlot: string | null;
  level: string | null;
  entries: string[];
}

/** The request in numbers, as the fit takes it. */
export function fitRequestOf({ entries, checks, levels, ...request }: LayoutRequest): FitRequest {
  return { ...request, entries: entries.length, checks: checks?.length, levels: levels?.length };
}

function dealtRuns(request: LayoutRequest): DealtRun[] {
  const { design, entries, checks = [], levels = [], blocks, seed } = request;
  const plain = { replicate: null, mainPlot: null, level: null };
  const numbered = (deal: string[][]) =>
    deal.map((run, index) => ({ ...plain, block: index + 1, entries: run }));
  if (design === "crd") return [{ ...plain, block: null, entries: dealCrd(entries, blocks, seed) }];
  if (design === "rcbd") return numbered(dealRcbd(entries, blocks, seed));
  if (design === "latin") return numbered(dealLatinSquare(entries, seed));
  if (design === "augmented") {
    const once = entries.filter((entry) => !checks.includes(entry));
    return numbered(dealAugmented(once, checks, blocks, seed));
  }
  if (design === "split-plot")
    return dealSplitPlot(levels, entries, blocks, seed).flatMap((block, index) =>
      block.map((main, position) => ({
        block: index + 1,
        replicate: null,
        mainPlot: String(position + 1),
        level: main.level,
        entries: main.entries,
      })),
    );
  return dealAlpha(entries, blocks, request.plotsPerBlock ?? entries.length, seed).map((block, index) => ({
    ...plain,
    block: index + 1,
    replicate: block.replicate,
    entries: block.entries,
  }));
}

function inRuns(cells: readonly Cell[]): Cell[][] {
  const runs = new Map<number | null, Cell[]>();
  for (const cell of cells) {
    const run = runs.get(cell.block);
    if (run) run.push(cell);
    else runs.set(cell.block, [cell]);
  }
  return [...runs.values()];
}

/**
 * Lays a trial out: fits its plots to the beds and deals the varieties to them from the seed. The same request gives
 * the same layout on any machine. Refused as `designMisfits` and `fitBed` refuse.
 *
 * A block with fewer varieties than others leaves its last place empty.
 */
export function layOutTrial(request: LayoutRequest): Outcome<{ plots: LaidPlot[] }> {
  const asked = fitRequestOf(request);
  const misfits = designMisfits(asked);
  if (misfits.length > 0) return refusal(misfits);
  const fit = fitBed(asked);
  if (!fit.ok) return fit;
  const { cells, widthMm, lengthMm, plantRows } = fit.value;
  const runs = inRuns(cells);
  const placed = new Map<number | null, number>();
  const plots = dealtRuns(request).flatMap(({ entries, ...run }, index) =>
    entries.map((entryId, position): LaidPlot => {
      const inBlock = (placed.get(run.block) ?? 0) + 1;
      placed.set(run.block, inBlock);
      return {
        ...runs[index][position],
        ...run,
        code: plotCode(run.block, inBlock),
        entryId,
        widthMm,
        lengthMm,
        plants: request.plantsPerPlot,
        plantRows,
      };
    }),
  );
  return success({ plots });
}
