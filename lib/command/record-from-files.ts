import type { AnalysedDesign, TrialRecord } from "@/lib/analysis/trial-record";
import type { ObservationRow } from "@/lib/records/read-observations";
import type { PlotRow } from "@/lib/records/read-plots";
import type { Fault } from "@/lib/words/fault";
import { type Outcome, refusal, success } from "@/lib/words/fault";
import { instantOf } from "@/lib/words/instant";
import type { Observation } from "@/lib/words/observation";

export interface FilesRequest {
  plots: PlotRow[];
  observations: ObservationRow[];
  /** The plots file's name, for the places of faults. */
  plotsFile: string;
  /** Null: told from the columns that are filled. */
  design: AnalysedDesign | null;
  check: string | null;
}

/** Files carry no seed of a deal, so that one is fixed: the same files always give the same figures. */
const seedForFiles = 1;
const deviceOfFiles = "00000000-0000-7000-8000-000000000000";

const neededColumns: Record<AnalysedDesign, (keyof PlotRow)[]> = {
  crd: [],
  rcbd: ["block"],
  latin: ["row", "column"],
  "split-plot": ["block", "mainPlot"],
  augmented: ["block"],
  "incomplete-blocks": ["replicate", "block"],
};
const columnNames: Partial<Record<keyof PlotRow, string>> = { mainPlot: "main_plot" };

function isFilled(plots: PlotRow[], column: keyof PlotRow): boolean {
  return plots.some((plot) => plot[column] !== null);
}

/** The design that the filled columns speak of; a file of one block, or of none, is completely randomised. */
export function designOfColumns(plots: PlotRow[]): AnalysedDesign {
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
function isRenamed(plots: PlotRow[]): boolean {
  const varieties = new Set(plots.map((plot) => plot.variety));
  const perBlock = new Map<string, Set<string>>();
  for (const plot of plots) {
    const block = `${plot.replicate} / ${plot.block}`;
    perBlock.set(block, (perBlock.get(block) ?? new Set()).add(plot.variety));
  }
  return [...perBlock.values()].every((held) => held.size === varieties.size);
}

function isSquare(plots: PlotRow[]): boolean {
  const order = new Set(plots.map((plot) => plot.variety)).size;
  const cells = plots.flatMap((plot) => [
    `row ${plot.row} ${plot.variety}`,
    `column ${plot.column} ${plot.variety}`,
    `place ${plot.row} ${plot.column}`,
  ]);
  const isPlaced = plots.every((plot) => plot.row !== null && plot.column !== null);
  return order > 1 && isPlaced && plots.length === order ** 2 && new Set(cells).size === 3 * order ** 2;
}

/** A trial's record from the rows of its two files, or what the design asks for and the files do not say. */
export function recordFromFiles(request: FilesRequest): Outcome<TrialRecord> {
  const { observations, plotsFile, check } = request;
  const design = request.design ?? designOfColumns(request.plots);
  const plots = blocksFromReplicates(request.plots, design);
  const varieties = [...new Set(plots.map((plot) => plot.variety))];
  const faults: Fault[] = plots.flatMap((plot) =>
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
  if (design === "split-plot" && new Set(plots.map((plot) => plot.cover ?? plot.sownOn)).size < 2)
    faults.push({
      place: `${plotsFile}:1:cover`,
      found: "one treatment",
      wanted: "a cover or a sown_on that differs between main plots",
    });
  if (check !== null && !varieties.includes(check))
    faults.push({
      place: "--check",
      found: check,
      wanted: `one of the varieties in ${plotsFile}: ${varieties.join(", ")}`,
    });
  if (faults.length > 0) return refusal(faults);
  return success({
    design,
    seed: seedForFiles,
    varieties,
    check,
    tenderCheck: null,
    plots: plots.map((plot) => ({
      id: plot.plot,
      code: plot.plot,
      variety: plot.variety,
      replicate: plot.replicate,
      block: plot.block,
      mainPlot: plot.mainPlot,
      row: plot.row,
      column: plot.column,
      cover: plot.cover,
      sownOn: plot.sownOn,
      plants: plot.plants,
      plantedOn: plot.plantedOn,
      areaM2: plot.areaM2,
    })),
    facts: observations.map(factFromRow),
    amendments: [],
    assessments: [],
    decidingAssessment: "end",
    rule: null,
    ruleChangedAfterData: false,
    clearBy: null,
  });
}

/** A trial in complete blocks may name them as replicates. */
function blocksFromReplicates(plots: PlotRow[], design: AnalysedDesign): PlotRow[] {
  if (design === "incomplete-blocks" || isFilled(plots, "block")) return plots;
  return plots.map((plot) => ({ ...plot, block: plot.replicate }));
}

/** Rows fold in the order of the file within a day. Plants added complete their plot where `set_out_on` is blank. */
function factFromRow(row: ObservationRow): Observation {
  return {
    id: row.id ?? `line ${row.line}`,
    deviceId: deviceOfFiles,
    deviceSequence: row.line,
    walkaboutId: null,
    plotId: row.plot,
    cohortOn: row.setOutOn,
    kind: row.kind,
    cause: row.cause,
    trait: row.trait,
    part: row.part,
    amount: row.amount,
    unit: row.unit,
    seenOn: row.seenOn,
    recordedAt: instantOf(0),
    replaces: row.replaces,
    by: row.by ?? "",
    note: row.note,
  };
}
