import { findPicture } from "@/db/queries/find-picture";
import { findPlot } from "@/db/queries/find-plot";
import { listCauses } from "@/db/queries/list-causes";
import { listEntries } from "@/db/queries/list-entries";
import { listFactsOfPlot } from "@/db/queries/list-facts-of-plot";
import { listPlots } from "@/db/queries/list-plots";
import { listTiedFacts } from "@/db/queries/list-tied-facts";
import { type HistoryLine, historyLines } from "./history-line";
import type { House } from "./house";

export interface PlotHistory {
  plot: { id: string; trialId: string; code: string; variety: string };
  /** In fold order, corrected and withdrawn ones included. */
  facts: (HistoryLine & {
    /** Whether the picture that it names, if any, has come home. */
    pictureHome: boolean;
  })[];
  /** The plots of the trial: a fact may have been written down for the wrong one. */
  plots: { id: string; words: string }[];
  /** Causes of loss and reasons of removal, in their order. */
  causes: { code: string; words: string; takes: "loss" | "removal" }[];
}

/** All that was ever recorded of a plot. Null when there is no such plot. */
export function plotHistory(house: House, plotId: string): PlotHistory | null {
  const { database } = house;
  const plot = findPlot(database, plotId);
  if (!plot) return null;
  const rows = listFactsOfPlot(database, plotId);
  const tied = listTiedFacts(database, { factIds: rows.map((row) => row.id) });
  const varieties = new Map(listEntries(database, plot.trialId).map((entry) => [entry.id, entry.variety]));
  const plots = listPlots(database, plot.trialId).map(({ id, code, entryId }) => ({
    id,
    code,
    variety: varieties.get(entryId) ?? "",
  }));
  const variety = plots.find(({ id }) => id === plot.id)?.variety ?? "";
  return {
    plot: { id: plot.id, trialId: plot.trialId, code: plot.code, variety },
    facts: historyLines(rows, tied).map((line) => ({
      ...line,
      pictureHome: !!line.picture && findPicture(database, line.picture) !== null,
    })),
    plots: plots.map(({ id, code, variety }) => ({ id, words: `${code} ${variety}` })),
    causes: listCauses(database).map(({ code, words, takes }) => ({ code, words, takes })),
  };
}
