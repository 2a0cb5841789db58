import { findPlot } from "@/db/queries/find-plot";
import { listFactsOfPlot } from "@/db/queries/list-facts-of-plot";
import { listTiedFacts } from "@/db/queries/list-tied-facts";
import { type HistoryLine, historyLines } from "./history-line";
import type { House } from "./house";

export interface PlotHistory {
  plot: { id: string; trialId: string; code: string };
  /** In fold order, corrected and withdrawn ones included. */
  facts: HistoryLine[];
}

/** All that was ever recorded of a plot. Null when there is no such plot. */
export function plotHistory(house: House, plotId: string): PlotHistory | null {
  const { database } = house;
  const plot = findPlot(database, plotId);
  if (!plot) return null;
  const rows = listFactsOfPlot(database, plotId);
  const tied = listTiedFacts(database, { factIds: rows.map((row) => row.id) });
  return {
    plot: { id: plot.id, trialId: plot.trialId, code: plot.code },
    facts: historyLines(rows, tied),
  };
}
