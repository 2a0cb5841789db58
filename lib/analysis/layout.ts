import type { Layout, PlotCount } from "@/lib/statistics/plot-count";
import { sayCompanionLevel } from "@/lib/words/say-under";
import type { MainFactor } from "@/lib/words/trial";
import type { AnalysedDesign, RecordPlot, TrialRecord } from "./trial-record";

/** The terms that survival is fitted on beside variety, for each design. */
const layoutOf: Record<AnalysedDesign, Layout> = {
  crd: "crd",
  rcbd: "rcbd",
  latin: "latin",
  "split-plot": "rcbd",
  augmented: "rcbd",
  "incomplete-blocks": "rcbd",
};

/** The layout whose terms are fitted; an augmented bed without blocks has none. */
export function survivalLayout(record: TrialRecord): Layout {
  if (record.design === "augmented" && record.plots.some((plot) => plot.block === null)) return "crd";
  return layoutOf[record.design];
}

/**
 * The smallest group of plots that lay together: the block; the block within its replicate where blocks are
 * incomplete; the main plot within its block where treatments were dealt to main plots.
 */
export function neighbourhood(plot: RecordPlot, design: AnalysedDesign): string | null {
  if (design === "crd") return null;
  if (design === "split-plot") return mainPlotOf(plot);
  if (plot.replicate !== null && plot.block !== null && plot.replicate !== plot.block)
    return `${plot.replicate} / ${plot.block}`;
  return plot.block;
}

/** The main plot's name, unique in the trial: files often number main plots within their block. */
export function mainPlotOf(plot: RecordPlot): string {
  return `${plot.block ?? ""} / ${plot.mainPlot ?? ""}`;
}

/** What differs between plots beside varieties: covers, else sowing dates, else companions; null when none does. */
function comparedOn({ plots }: Pick<TrialRecord, "plots">): MainFactor | null {
  const differ = (of: (plot: RecordPlot) => string | null) => new Set(plots.map(of)).size > 1;
  if (differ((plot) => plot.cover)) return "cover";
  if (differ((plot) => plot.sownOn)) return "sowing";
  return differ((plot) => plot.companion ?? null) ? "companion" : null;
}

const treatments: Record<MainFactor, (plot: RecordPlot) => string> = {
  cover: (plot) => plot.cover ?? "open ground",
  sowing: (plot) => (plot.sownOn ? `sown ${plot.sownOn}` : "sowing not said"),
  companion: (plot) => sayCompanionLevel(plot.companion ?? null),
};

/** What whole main plots were dealt, plot by plot; null when nothing differs. */
export function mainTreatment(record: Pick<TrialRecord, "plots">): ((plot: RecordPlot) => string) | null {
  const factor = comparedOn(record);
  return factor && treatments[factor];
}

/** Whether covers, sowing dates or companions are what differs beside varieties; sowing dates where nothing does. */
export function treatmentName(record: Pick<TrialRecord, "plots">): MainFactor {
  return comparedOn(record) ?? "sowing";
}

/** Whether it is the varieties that whole main plots were dealt, and the treatment the plots within. */
export function isVarietyOnMainPlots(record: Pick<TrialRecord, "plots">): boolean {
  const treatmentOf = mainTreatment(record);
  const isConstant = (of: (plot: RecordPlot) => string) => {
    const seen = new Map<string, string>();
    return record.plots.every((plot) => {
      const first = seen.get(mainPlotOf(plot)) ?? of(plot);
      seen.set(mainPlotOf(plot), first);
      return first === of(plot);
    });
  };
  return isConstant((plot) => plot.variety) && !(treatmentOf && isConstant(treatmentOf));
}

/** The one variety that stands in several plots of a bed of single entries; null when there is none, or several. */
export function repeatedVariety(record: TrialRecord): string | null {
  const repeated = record.varieties.filter(
    (variety) => record.plots.filter((plot) => plot.variety === variety).length > 1,
  );
  return repeated.length === 1 ? repeated[0] : null;
}

/** Whether entries stand once beside one repeated check, so that only the check shows how plots differ. */
export function isLookSee(record: TrialRecord): boolean {
  return record.design === "augmented" && repeatedVariety(record) !== null;
}

/** A plot's count in the form that the statistics take. */
export function plotCount(
  plot: RecordPlot,
  design: AnalysedDesign,
  count: { setOut: number; standing: number },
): PlotCount {
  return {
    variety: plot.variety,
    block: neighbourhood(plot, design),
    row: plot.row,
    column: plot.column,
    setOut: count.setOut,
    standing: count.standing,
  };
}

/** How many blocks (complete replicates where blocks are incomplete) the trial has; null without blocks. */
export function blockCount(record: TrialRecord): number | null {
  if (record.design === "crd") return null;
  const names = record.plots.map((plot) =>
    record.design === "incomplete-blocks" && plot.replicate !== null
      ? plot.replicate
      : record.design === "latin"
        ? String(plot.row)
        : plot.block,
  );
  const known = new Set(names.filter((name) => name !== null));
  return known.size > 0 ? known.size : null;
}

/** Whether every variety stands once in every row and column; a square with a gap cannot be dealt again. */
export function isCompleteSquare(record: TrialRecord): boolean {
  const order = record.varieties.length;
  const places = record.plots.flatMap((plot) => [
    `row ${plot.row} ${plot.variety}`,
    `column ${plot.column} ${plot.variety}`,
    `place ${plot.row} ${plot.column}`,
  ]);
  const isPlaced = record.plots.every((plot) => plot.row !== null && plot.column !== null);
  return isPlaced && record.plots.length === order ** 2 && new Set(places).size === 3 * order ** 2;
}
