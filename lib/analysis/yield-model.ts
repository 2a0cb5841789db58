import { type Factor, factor } from "@/lib/statistics/factor";
import type { SplitPlotLayout } from "@/lib/statistics/split-plot-model";
import { isVarietyOnMainPlots, mainPlotOf, mainTreatment, neighbourhood, treatmentName } from "./layout";
import type { AnalysedDesign, RecordPlot, TrialRecord } from "./trial-record";

/** A plot that enters the model, with its yield on the scale asked for. */
export interface ModelPlot {
  plot: RecordPlot;
  response: number;
}

/** The varieties of the plots as a factor, in entry order. */
export function varietyFactor(plots: ModelPlot[], varieties: string[]): Factor {
  return factor(
    "variety",
    plots.map((one) => one.plot.variety),
    varieties,
  );
}

/** A factor of the plots from something that each has. */
export function plotFactor(
  name: string,
  plots: ModelPlot[],
  of: (plot: RecordPlot) => string | number | null,
): Factor {
  return factor(
    name,
    plots.map((one) => String(of(one.plot))),
  );
}

/** What the plots of a layout share beside their variety: nothing, blocks (the smallest), or rows and columns. */
export function layoutFactors(plots: ModelPlot[], design: AnalysedDesign): Factor[] {
  if (design === "latin")
    return [plotFactor("row", plots, (plot) => plot.row), plotFactor("column", plots, (plot) => plot.column)];
  const isInBlocks = design !== "crd" && plots.every((one) => neighbourhood(one.plot, design) !== null);
  return isInBlocks ? [plotFactor("block", plots, (plot) => neighbourhood(plot, design))] : [];
}

/** Blocks, main plots and what was dealt to them or within them beside varieties. */
export function splitPlotLayout(record: Pick<TrialRecord, "plots">, plots: ModelPlot[]): SplitPlotLayout {
  const treatmentOf = mainTreatment(record);
  return {
    block: plotFactor("block", plots, (plot) => plot.block),
    mainPlot: plotFactor("main plot", plots, mainPlotOf),
    treatment: plotFactor(treatmentName(record), plots, (plot) => treatmentOf?.(plot) ?? ""),
    isVarietyOnMainPlots: isVarietyOnMainPlots(record),
  };
}
