import { linearModel } from "@/lib/statistics/linear-model";
import { marginalDifferences } from "@/lib/statistics/marginal-means";
import type { TrialRecord } from "./trial-record";
import { fixedModel, type ModelPlot } from "./yield-model";

/** A variety's yield as a multiple of the check's. Null limits say why in `why`. */
export interface YieldRatio {
  variety: string;
  ratio: number | null;
  low: number | null;
  high: number | null;
  /** Log of the ratio with its standard error and df, where the log scale was used: what a floor is judged on. */
  log: { estimate: number; se: number; df: number } | null;
  why: "no yield" | "check too uncertain" | "not estimable" | null;
}

/**
 * The multiple of the check, chosen beforehand: the model on log yields, since plots scatter more where they yield
 * more. A variety with a plot that yielded nothing has no log.
 */
export function yieldRatios(record: TrialRecord, plots: ModelPlot[], level: number): YieldRatio[] {
  const { check, varieties } = record;
  if (check === null) return [];
  const hasNought = (variety: string) =>
    plots.some((one) => one.plot.variety === variety && one.response <= 0);
  const logged = plots.filter((one) => !hasNought(one.plot.variety));
  const others = varieties.filter((variety) => variety !== check);
  const onLog = logRatios(record, logged, check, level);
  return others.map(
    (variety) =>
      onLog.find((one) => one.variety === variety) ?? {
        variety,
        ratio: null,
        low: null,
        high: null,
        log: null,
        why: "not estimable",
      },
  );
}

function logRatios(record: TrialRecord, plots: ModelPlot[], check: string, level: number): YieldRatio[] {
  const present = new Set(plots.map((one) => one.plot.variety));
  if (!present.has(check) || present.size < 2) return [];
  const { variables, terms } = fixedModel(plots, record.design, record.varieties);
  const model = linearModel(
    plots.map((one) => Math.log(one.response)),
    variables,
    terms,
  );
  const pairs = [...present]
    .filter((variety) => variety !== check)
    .map((variety) => [variety, check] as const);
  return marginalDifferences(model, "variety", pairs, level).map(
    ({ level: variety, estimate, se, df, low, high }): YieldRatio => ({
      variety,
      ratio: estimate === null ? null : Math.exp(estimate),
      low: low === null ? null : Math.exp(low),
      high: high === null ? null : Math.exp(high),
      log: estimate === null || se === null || df === null ? null : { estimate, se, df },
      why: low === null ? "not estimable" : null,
    }),
  );
}
