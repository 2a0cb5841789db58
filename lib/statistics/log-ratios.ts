import { type ContrastEstimate, contrast } from "./contrast";
import type { Factor } from "./factor";
import { type FittedModel, linearModel } from "./linear-model";
import { differenceRow } from "./marginal-means";
import { insist } from "./requirement";
import { type SplitPlotLayout, splitPlotModel } from "./split-plot-model";

/** Yield of each variety over the check's. `log` holds the same on the log scale, for probabilities of a floor. */
export interface LogRatio {
  level: string;
  ratio: number | null;
  low: number | null;
  high: number | null;
  log: ContrastEstimate;
}

export interface LogRatios {
  /** In the order of the variety factor's levels, without the check and without varieties that have a plot of 0. */
  ratios: LogRatio[];
  /** Varieties with a plot that yielded nothing: theirs are for `fiellerRatio`. All of them where the check has one. */
  withZeros: string[];
}

/**
 * Ratios of yield to the check, from the layout's terms + variety on log yield, with t limits.
 *
 * For yields of whole plots, whose spread usually grows with their mean. Not for a pair in which a plot yielded nothing:
 * log 0 does not exist, and log(1 + y) covers 69 % of the time; see `fiellerRatio`.
 *
 * @param yields one a plot, finite and ≥ 0, on any scale
 * @param variety the factor compared
 * @param layout blocks, or rows and columns; none when completely randomised; main plots within blocks
 * @param check level compared with
 *
 * Conventions: a variety with a plot of 0 leaves the model with all its plots; the others keep the common error. In a
 * split plot the ratio is that of means on the log scale over the covers (or sowings), each weighing the same, against
 * the error of its own stratum.
 * Edges: reasons as in `contrast`; a check with a plot of 0 leaves no ratios here.
 * Source: common practice; the choice over pooled Fieller limits is the project's (coverage study in CALIBRATION.md).
 * Checked: tests/reference/log-ratio (R lm on log yield; emmeans of lmer where main plots were dealt covers), tests/unit/statistics/yield-ratio.test.ts.
 * Example: check 100, 200 and variety 200, 400 in two blocks → ratio 2, and no limits: the model leaves nothing over.
 */
export function logRatios(
  yields: readonly number[],
  variety: Factor,
  layout: readonly Factor[] | SplitPlotLayout,
  check: string,
  level: number,
): LogRatios {
  const bad = yields.find((value) => !(value >= 0 && value < Number.POSITIVE_INFINITY));
  insist(bad === undefined, "logRatios", "finite yields ≥ 0", bad ?? "");
  insist(variety.levels.includes(check), "logRatios", "a check among the varieties", check);
  const names = variety.codes.map((code) => variety.levels[code]);
  const withZero = new Set(names.filter((_, plot) => yields[plot] === 0));
  if (withZero.has(check)) return { ratios: [], withZeros: variety.levels.filter((one) => one !== check) };

  const kept = yields.flatMap((_, plot) => (withZero.has(names[plot]) ? [] : [plot]));
  const model = logModel(yields, variety, layout, kept);
  const ratios = model.varieties
    .filter((one) => one !== check)
    .map((one) => {
      const log = contrast(model.fit, differenceRow(model.fit, variety.name, one, check), level);
      const raised = (value: number | null) => (value === null ? null : Math.exp(value));
      return { level: one, ratio: raised(log.estimate), low: raised(log.low), high: raised(log.high), log };
    });
  return { ratios, withZeros: variety.levels.filter((one) => withZero.has(one)) };
}

function logModel(
  yields: readonly number[],
  variety: Factor,
  layout: readonly Factor[] | SplitPlotLayout,
  kept: readonly number[],
): { fit: FittedModel; varieties: readonly string[] } {
  const part = ({ name, levels, codes }: Factor): Factor => {
    const used = [...new Set(kept.map((plot) => codes[plot]))].sort((one, other) => one - other);
    return {
      name,
      levels: used.map((code) => levels[code]),
      codes: kept.map((plot) => used.indexOf(codes[plot])),
    };
  };
  const logs = kept.map((plot) => Math.log(yields[plot]));
  const own = part(variety);
  if ("mainPlot" in layout) {
    const [block, mainPlot, treatment] = [layout.block, layout.mainPlot, layout.treatment].map(part);
    return {
      fit: splitPlotModel(logs, { ...layout, block, mainPlot, treatment }, own).fit,
      varieties: own.levels,
    };
  }
  const factors = [...layout.map(part), own];
  const fit = linearModel(
    logs,
    factors,
    factors.map(({ name }) => [name]),
  );
  return { fit, varieties: own.levels };
}
