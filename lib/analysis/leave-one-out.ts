import { Matrix } from "ml-matrix";
import { linearModel } from "@/lib/statistics/linear-model";
import { differenceRow } from "@/lib/statistics/marginal-means";
import { studentTQuantile } from "@/lib/statistics/student-t";
import type { YieldAnalysis, YieldDifference } from "./finding";
import type { TrialRecord } from "./trial-record";
import { layoutFactors, type ModelPlot, varietyFactor } from "./yield-model";

type Left = YieldAnalysis["working"]["leaveOneOut"][number];

function isClear(low: number, high: number): boolean {
  return low > 0 || high < 0;
}

/**
 * For each difference to the check, the plot whose absence changes the answer most: one that turns clear into unclear
 * or the reverse where there is one, else the one that moves the difference furthest.
 *
 * A fit without one plot follows exactly from the whole fit: with u the contrast's weight on the plot, r its residual
 * and h its leverage the estimate falls by u·r/(1 − h), the residual sum of squares by r²/(1 − h), and the contrast's
 * variance factor grows by u²/(1 − h) (Cook & Weisberg 1982, section 2.2). The limits keep the whole trial's allowance
 * for several comparisons, widened for the degree of freedom lost. A plot that alone tells something cannot be left out.
 */
export function leaveOneOut(record: TrialRecord, plots: ModelPlot[], differences: YieldDifference[]): Left[] {
  const variety = varietyFactor(plots, record.varieties);
  const variables = [...layoutFactors(plots, record.design), variety];
  const model = linearModel(
    plots.map((one) => one.response),
    variables,
    variables.map(({ name }) => [name]),
  );
  const { kept, unscaled, design, residuals, leverages, residualSs, residualDf } = model;
  if (residualDf < 2 || model.leavesNothing) return [];
  const wider = studentTQuantile(0.975, residualDf - 1) / studentTQuantile(0.975, residualDf);
  return differences.flatMap((whole): Left[] => {
    const { estimate, se, low, high } = whole;
    if (estimate === null || se === null || low === null || high === null) return [];
    const multiplier = ((high - estimate) / se) * wider;
    const weights = differenceRow(model, "variety", whole.variety, whole.reference);
    const onPlots = unscaled.mmul(Matrix.columnVector(kept.map((place) => weights[place])));
    const factor = kept.reduce((sum, place, k) => sum + weights[place] * onPlots.get(k, 0), 0);
    const without = plots.flatMap((one, place) => {
      const left = 1 - leverages[place];
      if (left < 1e-9) return [];
      const u = kept.reduce((sum, column, k) => sum + design.columns[column][place] * onPlots.get(k, 0), 0);
      const moved = estimate - (u * residuals[place]) / left;
      const ms = Math.max(0, residualSs - residuals[place] ** 2 / left) / (residualDf - 1);
      const half = multiplier * Math.sqrt(ms * (factor + u ** 2 / left));
      const turns = isClear(moved - half, moved + half) !== isClear(low, high);
      return [{ variety: whole.variety, plot: one.plot.code, difference: moved, turns }];
    });
    const further = (a: Left, b: Left) =>
      Math.abs(b.difference - estimate) - Math.abs(a.difference - estimate);
    const most = without.sort((a, b) => Number(b.turns) - Number(a.turns) || further(a, b))[0];
    return most ? [most] : [];
  });
}
