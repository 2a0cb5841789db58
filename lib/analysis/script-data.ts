import type { Layout } from "@/lib/statistics/plot-count";
import { type Day, daysBetween } from "@/lib/words/day";
import type { AnalysisOptions } from "./analyse-trial";
import { firstDay } from "./followed-plot";
import {
  isLookSee,
  isVarietyOnMainPlots,
  mainPlotOf,
  mainTreatment,
  neighbourhood,
  repeatedVariety,
  survivalLayout,
} from "./layout";
import { type PlotStand, plotStands, sinceDay } from "./plot-stand";
import { readTrial } from "./read-trial";
import type { AnalysedDesign, TrialRecord } from "./trial-record";
import { modelPlots } from "./yield-finding";
import { layoutFactors } from "./yield-model";

export interface ScriptPlot {
  plot: string;
  variety: string;
  /** The smallest group of plots that lay together; null without. */
  block: string | null;
  /** The whole block, where covers or sowing dates were dealt to main plots; otherwise as `block`. */
  wholeBlock: string | null;
  replicate: string | null;
  mainPlot: string | null;
  treatment: string | null;
  row: number | null;
  column: number | null;
  /** The yield on the scale on show; null where it is missing or nobody picked. */
  yield: number | null;
}

/** The plots' plants over one stretch of time. */
export interface ScriptStep {
  step: "both" | "took" | "wintered";
  /** How long the stretch lasts, in days. */
  until: number;
  counts: { plot: string; setOut: number; takenOut: number; standing: number }[];
  /** Plants with the day, from the stretch's beginning, on which they were seen lost, taken out, or last stood. */
  followed: { plot: string; day: number; plants: number; cause: string | null }[];
}

/** The data of an analysis as it was done, for doing it again elsewhere. */
export interface ScriptData {
  design: AnalysedDesign;
  layout: Layout;
  /** Varieties in entry order. */
  varieties: string[];
  check: string | null;
  /** The repeated check of a look-see bed; null in any other. */
  lookSeeCheck: string | null;
  isVarietyOnMainPlots: boolean;
  plots: ScriptPlot[];
  steps: ScriptStep[];
  /** The first planting, or the first thing seen where nobody said. */
  from: Day | null;
  /** Days since then on which somebody looked, the first day itself before them. */
  looks: number[];
  /** What the plots share beside their variety in the model of yield: nothing, `block`, or `row` and `column`. */
  yieldLayout: string[];
}

/** What `analyseTrial` worked from under the same options. */
export function scriptData(record: TrialRecord, options: AnalysisOptions = {}): ScriptData {
  const { seen, looks, at, stands, tookOn, picks } = readTrial(
    record,
    options.at ?? null,
    options.leavingOut ?? null,
  );
  const treatmentOf = record.design === "split-plot" ? mainTreatment(record) : null;
  const inModel = modelPlots({ picks, stands, per: options.yieldPer ?? "plant" });
  const yields = new Map(inModel.map(({ plot, response }) => [plot, response]));
  const held = stands.filter((stand) => stand.setOut > 0);
  const from = firstDay(held);
  const steps: ScriptStep[] = [];
  if (at !== null && held.length > 0) {
    steps.push(stepOf("both", stands, firstDay(stands) ?? at, at));
    if (tookOn !== null) {
      const atTook = plotStands(seen, tookOn);
      steps.push(stepOf("took", atTook, firstDay(atTook) ?? tookOn, tookOn));
      const since = stands.map((stand) => sinceDay(stand, tookOn));
      steps.push(stepOf("wintered", since, tookOn, at));
    }
  }
  return {
    design: record.design,
    layout: survivalLayout(record),
    varieties: record.varieties,
    check: record.check,
    lookSeeCheck: isLookSee(record) ? repeatedVariety(record) : null,
    isVarietyOnMainPlots: record.design === "split-plot" && isVarietyOnMainPlots(record),
    plots: record.plots.map((plot) => ({
      plot: plot.code,
      variety: plot.variety,
      block: neighbourhood(plot, record.design),
      wholeBlock: plot.block,
      replicate: plot.replicate,
      mainPlot: record.design === "split-plot" ? mainPlotOf(plot) : null,
      treatment: treatmentOf?.(plot) ?? null,
      row: plot.row,
      column: plot.column,
      yield: yields.get(plot) ?? null,
    })),
    steps,
    from,
    looks:
      from === null || at === null
        ? []
        : [0, ...looks.filter((day) => day <= at && day > from).map((day) => daysBetween(from, day))],
    yieldLayout: layoutFactors(inModel, record.design).map(({ name }) => name),
  };
}

function stepOf(step: ScriptStep["step"], stands: PlotStand[], from: Day, until: Day): ScriptStep {
  const since = (day: Day) => Math.max(0, daysBetween(from, day));
  return {
    step,
    until: daysBetween(from, until),
    counts: stands.map(({ plot, setOut, takenOut, standing }) => ({
      plot: plot.code,
      setOut,
      takenOut,
      standing,
    })),
    followed: stands.flatMap(({ plot, losses, removals, standing }) =>
      [
        ...losses.map((loss) => ({ day: since(loss.seenOn), plants: loss.plants, cause: loss.cause })),
        ...removals.map((removal) => ({ day: since(removal.seenOn), plants: removal.plants, cause: null })),
        { day: since(until), plants: standing, cause: null },
      ]
        .filter(({ plants }) => plants > 0)
        .map((one) => ({ plot: plot.code, ...one })),
    ),
  };
}
