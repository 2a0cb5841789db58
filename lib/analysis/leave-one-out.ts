import { linearModel } from "@/lib/statistics/linear-model";
import { marginalDifferences } from "@/lib/statistics/marginal-means";
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
 * The limits without a plot keep the whole trial's allowance for several comparisons, widened for the degree of freedom
 * lost: Dunnett's quantile afresh for every plot would take seconds and hardly differ.
 */
export function leaveOneOut(record: TrialRecord, plots: ModelPlot[], differences: YieldDifference[]): Left[] {
  const told = differences.flatMap((one) => {
    const { estimate, se, df, low, high } = one;
    if (estimate === null || se === null || df === null || low === null || high === null) return [];
    return [{ ...one, estimate, df, low, high, multiplier: (high - estimate) / se }];
  });
  const most = new Map<string, Left>();
  const wholes = new Map(told.map((one) => [one.variety, one]));
  for (const left of plots) {
    const others = plots.filter((one) => one !== left);
    const variety = varietyFactor(others, record.varieties);
    const pairs = told
      .filter((one) => variety.levels.includes(one.variety) && variety.levels.includes(one.reference))
      .map((one): [string, string] => [one.variety, one.reference]);
    if (pairs.length === 0) continue;
    const variables = [...layoutFactors(others, record.design), variety];
    const model = linearModel(
      others.map((one) => one.response),
      variables,
      variables.map(({ name }) => [name]),
    );
    for (const without of marginalDifferences(model, "variety", pairs, 0.95)) {
      const whole = wholes.get(without.level);
      if (!whole || without.estimate === null || without.se === null || without.df === null) continue;
      const wider = studentTQuantile(0.975, without.df) / studentTQuantile(0.975, whole.df);
      const half = whole.multiplier * wider * without.se;
      const turns =
        isClear(without.estimate - half, without.estimate + half) !== isClear(whole.low, whole.high);
      const before = most.get(whole.variety);
      const further =
        !before || Math.abs(without.estimate - whole.estimate) > Math.abs(before.difference - whole.estimate);
      if (!before || (turns && !before.turns) || (turns === before.turns && further))
        most.set(whole.variety, {
          variety: whole.variety,
          plot: left.plot.code,
          difference: without.estimate,
          turns,
        });
    }
  }
  return told.flatMap((one) => most.get(one.variety) ?? []);
}
