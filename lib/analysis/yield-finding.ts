import { coefficientOfVariation } from "@/lib/statistics/coefficient-of-variation";
import { randomStream } from "@/lib/statistics/random-stream";
import { yieldRandomisation } from "@/lib/statistics/yield-randomisation";
import type { Day } from "@/lib/words/day";
import type { Finding, YieldAnalysis, YieldDifference, YieldPer } from "./finding";
import { fitYield, hasOneError } from "./fit-yield";
import { isCompleteSquare, neighbourhood, survivalLayout } from "./layout";
import { leaveOneOut } from "./leave-one-out";
import { yieldPicks } from "./picks";
import type { PlotStand } from "./plot-stand";
import type { TrialRecord } from "./trial-record";
import type { FittedYield } from "./yield";
import type { ModelPlot } from "./yield-model";
import { responseOf, type TrialPicks, yieldScales } from "./yield-plots";
import { yieldRatios } from "./yield-ratio";

export interface YieldRequest {
  record: TrialRecord;
  picks: TrialPicks;
  stands: PlotStand[];
  per: YieldPer;
  asOf: Day | null;
  level: number;
  /** Whether to deal the layout again for p beside the model's. */
  redeal: boolean;
}

const dealsDrawn = 19_999;

/**
 * Yield of each variety over the trial picks: means, differences to the check and of all pairs, the multiple of the
 * check, and the working. Null where no plot has a yield on the scale asked for.
 */
export function yieldFinding(request: YieldRequest): Finding<YieldAnalysis> | null {
  const { record, picks, per, level } = request;
  const plots = modelPlots(request);
  if (plots.length === 0) return null;
  const fit = fitYield(record, plots, level);
  const mean = plots.reduce((sum, one) => sum + one.response, 0) / plots.length;
  const ratios = yieldRatios(record, plots, level);
  const differences = fit.differences.map((difference): YieldDifference => {
    const ratio = ratios.find((one) => one.variety === difference.variety);
    return {
      ...difference,
      ratio: ratio?.ratio ?? null,
      ratioLow: ratio?.low ?? null,
      ratioHigh: ratio?.high ?? null,
      plotsWipedOut: plots.filter((one) => one.plot.variety === difference.variety && one.response === 0)
        .length,
    };
  });
  return {
    value: {
      per,
      unit: "g",
      model: fit.model,
      cv: coefficientOfVariation(fit.residualMs, mean),
      residualDf: fit.residualDf,
      anova: fit.anova,
      varieties: inEntryOrder(record, fit.means),
      differences,
      pairs: fit.pairs,
      variance: fit.variance,
      main: fit.main,
      picks: yieldPicks(record.varieties, picks),
      working: {
        ...fit.working,
        leaveOneOut: hasOneError(record) ? leaveOneOut(record, plots, differences) : [],
        randomisation: request.redeal ? redealt(request, plots, differences) : [],
      },
    },
    plants: plots.reduce((sum, one) => sum + (one.plot.plants ?? 0), 0),
    plots: plots.length,
    asOf: picks.days.at(-1) ?? request.asOf,
    method: { name: fit.model, sources: fit.sources },
    scale: yieldScales[per],
    level,
    cautions: [],
  };
}

/** Every plot with a yield on the scale asked for, in the record's order. */
export function modelPlots({
  picks,
  stands,
  per,
}: Pick<YieldRequest, "picks" | "stands" | "per">): ModelPlot[] {
  return picks.plots.flatMap((own) => {
    const stand = stands.find((one) => one.plot.id === own.plot.id);
    const response = responseOf(own, per, stand);
    return response === null ? [] : [{ plot: own.plot, response }];
  });
}

/** A mean for every variety of the trial, null for one without a plot in the model. */
function inEntryOrder(record: TrialRecord, means: FittedYield["means"]): FittedYield["means"] {
  const none = { plots: 0, mean: null, se: null, df: null, low: null, high: null };
  return record.varieties.map(
    (variety) => means.find((mean) => mean.variety === variety) ?? { variety, ...none },
  );
}

/** p by dealing the layout again: the luck of the draw, beside the model's p. */
function redealt(
  { record }: YieldRequest,
  plots: ModelPlot[],
  differences: YieldDifference[],
): YieldAnalysis["working"]["randomisation"] {
  const told = differences.filter((difference) => difference.estimate !== null);
  if (told.length === 0 || (record.design === "latin" && !isCompleteSquare(record))) return [];
  const test = yieldRandomisation(
    record.plots.map((plot) => ({
      variety: plot.variety,
      block: neighbourhood(plot, record.design),
      row: plot.row,
      column: plot.column,
      value: plots.find((one) => one.plot.id === plot.id)?.response ?? null,
    })),
    survivalLayout(record),
    told.map(({ variety, reference }): [string, string] => [variety, reference]),
    "t",
    dealsDrawn,
    randomStream(record.seed),
  );
  return told.map(({ variety }, place) => ({
    variety,
    p: test.pairs[place].p,
    pFamily: test.pairs[place].pFamily,
  }));
}
