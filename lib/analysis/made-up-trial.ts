import { clumpedCount, normalVariate } from "@/lib/statistics/clumped-count";
import type { Estimate } from "@/lib/statistics/interval";
import { newcombeDifference } from "@/lib/statistics/newcombe-difference";
import type { RandomStream } from "@/lib/statistics/random-stream";
import type { Day } from "@/lib/words/day";
import { mainPlotOf, mainTreatment } from "./layout";
import type { PlotStand } from "./plot-stand";
import { fitShares } from "./share-fit";
import { survivalOfMain } from "./survival-of-main";
import type { RecordPlot, TrialRecord } from "./trial-record";

/** A layout as dealt, with nothing recorded yet. */
export type EmptyTrial = Pick<TrialRecord, "design" | "varieties" | "plots"> & { check: string };

export interface MadeUp {
  /** True shares standing, by plot. */
  share: (plot: RecordPlot) => number;
  /** How far plants of one plot share their fate. */
  icc: number;
  /** How far main plots differ besides, as a standard deviation on the logit. */
  mainPlotSd: number;
  level: number;
  stream: RandomStream;
}

/** What the analysis says of one made-up trial. */
export interface MadeUpResult {
  /** Share of each variety as it was seen. */
  shares: { variety: string; share: number | null }[];
  /** Every variety less the check; in a split plot, under its first cover or sowing date. */
  varieties: { variety: string; difference: Estimate | null }[];
  /** The second cover or sowing date less the first; null but in a split plot of three blocks or more. */
  treatments: Estimate | null;
}

const day = "2000-01-01" as Day;

function standOf(plot: RecordPlot, standing: number): PlotStand {
  const setOut = plot.plants ?? 0;
  return {
    plot,
    setOut,
    standing,
    lost: setOut - standing,
    losses: [],
    takenOut: 0,
    removals: [],
    unsettled: 0,
    doubtful: 0,
    lastSeenOn: day,
    notSeenSince: false,
    fillingsStanding: 0,
    endedOn: null,
  };
}

function shifted(share: number, shift: number): number {
  if (share <= 0 || share >= 1) return share;
  return 1 / (1 + Math.exp(-(Math.log(share / (1 - share)) + shift)));
}

/**
 * Makes up what would stand in every plot of a layout and puts it through the analysis that the results use: effective
 * plants within blocks, rows and columns or main plots, a look-see bed by its checks, covers by whole main plots.
 *
 * For planning only: how often a true difference would be seen.
 */
export function madeUpTrial(
  trial: EmptyTrial,
  { share, icc, mainPlotSd, level, stream }: MadeUp,
): MadeUpResult {
  const record: TrialRecord = {
    ...trial,
    seed: 0,
    tenderCheck: null,
    facts: [],
    amendments: [],
    assessments: [],
    decidingAssessment: "regrowth",
    rule: null,
    ruleChangedAfterData: false,
    clearBy: null,
  };
  const isSplit = trial.design === "split-plot";
  const shifts = new Map<string, number>();
  const shiftOf = (plot: RecordPlot) => {
    if (!isSplit || mainPlotSd === 0) return 0;
    const name = mainPlotOf(plot);
    const shift = shifts.get(name) ?? mainPlotSd * normalVariate(stream);
    shifts.set(name, shift);
    return shift;
  };
  const stands = trial.plots.map((plot) =>
    standOf(plot, clumpedCount(stream, plot.plants ?? 0, shifted(share(plot), shiftOf(plot)), icc)),
  );
  const fit = fitShares({ record, stands, from: null, asOf: day, level }, 1);
  const shares = fit.shares.map((one) => ({ variety: one.variety, share: one.share }));
  const others = trial.varieties.filter((variety) => variety !== trial.check);
  if (isSplit) {
    const main = survivalOfMain(record, stands, level);
    const first = mainTreatment(record)?.(trial.plots[0]);
    const cell = (variety: string) =>
      main?.cells.find((one) => one.treatment === first && one.variety === variety) ?? null;
    const described = main?.differences[0];
    return {
      shares,
      varieties: others.map((variety) => ({
        variety,
        difference: differenceOf(cell(variety), cell(trial.check), level),
      })),
      treatments:
        described && described.estimate !== null && described.low !== null && described.high !== null
          ? { estimate: described.estimate, low: described.low, high: described.high }
          : null,
    };
  }
  const of = (variety: string) => {
    const own = fit.shares.find((one) => one.variety === variety);
    return own ? { estimate: own.share, effectivePlants: own.effectivePlants } : null;
  };
  return {
    shares,
    varieties: others.map((variety) => ({
      variety,
      difference: fit.nearest
        ? (fit.nearest.get(variety) ?? null)
        : differenceOf(of(variety), of(trial.check), fit.level),
    })),
    treatments: null,
  };
}

interface Weighed {
  estimate: number | null;
  effectivePlants: number | null;
}

function differenceOf(a: Weighed | null, b: Weighed | null, level: number): Estimate | null {
  if (!a || !b || a.estimate === null || b.estimate === null || !a.effectivePlants || !b.effectivePlants)
    return null;
  return newcombeDifference(
    { share: a.estimate, plants: a.effectivePlants },
    { share: b.estimate, plants: b.effectivePlants },
    level,
  );
}
