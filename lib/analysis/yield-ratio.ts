import {
  fiellerFloorProbability,
  fiellerRatio,
  type PairOfMeans,
  pairedMeans,
  unpairedMeans,
} from "@/lib/statistics/fieller-ratio";
import { logRatioFloorProbability } from "@/lib/statistics/log-ratio-floor-probability";
import { type LogRatio, logRatios } from "@/lib/statistics/log-ratios";
import { isVarietyOnMainPlots, mainPlotOf, mainTreatment, neighbourhood } from "./layout";
import type { TrialRecord } from "./trial-record";
import { layoutFactors, type ModelPlot, splitPlotLayout, varietyFactor } from "./yield-model";

/** A variety's yield as a multiple of the check's. Null limits say why in `why`. */
export interface YieldRatio {
  variety: string;
  ratio: number | null;
  low: number | null;
  high: number | null;
  /** Log of the ratio with its standard error, where the log scale was used. */
  log: { estimate: number; se: number } | null;
  /** How likely the multiple is at least a floor, on the scale on which the limits stand; null where unknown. */
  atLeast: (floor: number) => number | null;
  why: "no yield" | "check too uncertain" | "not estimable" | null;
}

/** What the ratios need of a trial besides its yields. */
type Layout = Pick<TrialRecord, "design" | "varieties" | "check" | "plots">;

/**
 * The multiple of the check, by a method chosen beforehand: the layout's terms and variety on log yield, since plots
 * scatter more where they yield more. Where a plot of the pair yielded nothing there is no log: Fieller's limits from
 * the pair's own plots, paired by block where both stood in it.
 */
export function yieldRatios(record: Layout, plots: ModelPlot[], level: number): YieldRatio[] {
  const { check, varieties } = record;
  const present = new Set(plots.map((one) => one.plot.variety));
  if (check === null || !present.has(check)) return [];
  const logged = logRatios(
    plots.map((one) => one.response),
    varietyFactor(plots, varieties),
    record.design === "split-plot" ? splitPlotLayout(record, plots) : layoutFactors(plots, record.design),
    check,
    level,
  );
  return varieties
    .filter((variety) => variety !== check && present.has(variety))
    .map((variety) => {
      const onLog = logged.ratios.find((one) => one.level === variety);
      return onLog ? fromLogs(onLog) : fromPair(record, plots, variety, check, level);
    });
}

function fromLogs({ level: variety, ratio, low, high, log }: LogRatio): YieldRatio {
  return {
    variety,
    ratio,
    low,
    high,
    log: log.estimate === null || log.se === null ? null : { estimate: log.estimate, se: log.se },
    atLeast: (floor) => (floor > 0 ? logRatioFloorProbability(log, floor) : 1),
    why: low === null ? "not estimable" : null,
  };
}

function fromPair(
  record: Layout,
  plots: ModelPlot[],
  variety: string,
  check: string,
  level: number,
): YieldRatio {
  const means = meansOfPair(record, plots, variety, check);
  const { ratio, low, high, reason } = fiellerRatio(means, level);
  return {
    variety,
    ratio: reason === "check too uncertain" ? null : ratio,
    low: low === null ? null : Math.max(0, low),
    high,
    log: null,
    atLeast: (floor) => (floor > 0 ? fiellerFloorProbability(means, floor) : 1),
    why: reason === "no df" ? "not estimable" : reason,
  };
}

/** What each main plot was dealt as a whole; null where that was a variety. */
function treatmentOfMainPlots(record: Layout): Map<string, string> | null {
  if (isVarietyOnMainPlots(record)) return null;
  const treatmentOf = mainTreatment(record);
  return new Map(record.plots.map((plot) => [mainPlotOf(plot), treatmentOf?.(plot) ?? ""]));
}

/**
 * The pair's own plots, block by block where the layout has blocks and both stood there; in a split plot main plot by main
 * plot, and the means over covers (or sowings).
 */
function meansOfPair(record: Layout, plots: ModelPlot[], variety: string, check: string): PairOfMeans {
  const of = (name: string) => plots.filter((one) => one.plot.variety === name);
  const values = (some: ModelPlot[]) => some.map((one) => one.response);
  if (record.design === "crd") return unpairedMeans(values(of(variety)), values(of(check)));
  const mains = record.design === "split-plot" ? treatmentOfMainPlots(record) : null;
  const blockOf = ({ plot }: ModelPlot) => {
    if (record.design === "latin") return String(plot.row);
    return record.design === "split-plot" && mains === null ? plot.block : neighbourhood(plot, record.design);
  };
  const meanIn = (name: string) => {
    const byBlock = new Map<string | null, number[]>();
    for (const one of of(name))
      byBlock.set(blockOf(one), [...(byBlock.get(blockOf(one)) ?? []), one.response]);
    return new Map([...byBlock].map(([block, all]) => [block, all.reduce((a, b) => a + b, 0) / all.length]));
  };
  const [ours, checks] = [meanIn(variety), meanIn(check)];
  const shared = [...ours.keys()].filter((block) => checks.has(block));
  if (shared.length < 2) return unpairedMeans(values(of(variety)), values(of(check)));
  return pairedMeans(
    shared.map((block) => ours.get(block) as number),
    shared.map((block) => checks.get(block) as number),
    mains ? shared.map((mainPlot) => mains.get(mainPlot ?? "") ?? "") : undefined,
  );
}
