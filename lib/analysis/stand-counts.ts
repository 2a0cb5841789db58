import type { MainPlotCount } from "@/lib/statistics/effective-main-plots";
import type { PlotCount } from "@/lib/statistics/plot-count";
import { mainPlotOf, mainTreatment, plotCount } from "./layout";
import type { PlotStand } from "./plot-stand";
import type { TrialRecord } from "./trial-record";

/** Plants taken out are neither standing nor lost: they leave the count of those that had to stand. */
export function countOf(record: TrialRecord, stand: PlotStand): PlotCount {
  return plotCount(stand.plot, record.design, {
    setOut: stand.setOut - stand.takenOut,
    standing: stand.standing,
  });
}

/** The name of a variety under a treatment. */
export function cellName(treatment: string, variety: string): string {
  return `${treatment} / ${variety}`;
}

/** Plots' counts with *variety under treatment* in the variety's place and the main plot as block. */
export function cellCounts(record: TrialRecord, stands: PlotStand[]): PlotCount[] {
  const treatmentOf = mainTreatment(record);
  return stands.map((stand) => ({
    ...countOf(record, stand),
    variety: cellName(treatmentOf?.(stand.plot) ?? "", stand.plot.variety),
  }));
}

/** Plots' counts with their main plots, for what whole main plots were dealt: treatments, or varieties. */
export function mainPlotCounts(
  record: TrialRecord,
  stands: PlotStand[],
  dealt: "treatment" | "variety",
): MainPlotCount[] {
  const treatmentOf = mainTreatment(record);
  return stands.map((stand) => {
    const { setOut, standing } = countOf(record, stand);
    const { variety, block } = stand.plot;
    const treatment = treatmentOf?.(stand.plot) ?? "";
    return {
      treatment: dealt === "treatment" ? treatment : variety,
      variety: dealt === "treatment" ? variety : treatment,
      mainPlot: mainPlotOf(stand.plot),
      block,
      setOut,
      standing,
    };
  });
}
