import { balancedSplitPlot, type SplitPlot } from "./balanced-split-plot";
import type { Factor } from "./factor";
import { type MixedModel, mixedModel } from "./mixed-model";

/** Where plots lay: main plots within blocks. Main plots are named apart from those of other blocks. */
export interface SplitPlotLayout {
  block: Factor;
  mainPlot: Factor;
  /** What was dealt beside varieties: covers, sowing dates. */
  treatment: Factor;
  /** Whether whole main plots were dealt varieties, and the plots within them the treatment. */
  isVarietyOnMainPlots: boolean;
}

/** By its strata, or as a mixed model of these terms. */
export type SplitPlotModel =
  | { fit: SplitPlot; isBalanced: true; main: Factor; within: Factor }
  | { fit: MixedModel; isBalanced: false; main: Factor; within: Factor; terms: string[][] };

/**
 * The model that a split plot asks for: with every plot in place its strata, otherwise a mixed model by REML with Kenward
 * and Roger's df, block and main plot random. A treatment with one level is left out.
 *
 * For yields and their logs alike. Not for layouts without main plots.
 *
 * @param response one finite number a plot
 *
 * Source and checks: as in `balancedSplitPlot` and `mixedModel`.
 */
export function splitPlotModel(
  response: readonly number[],
  { block, mainPlot, treatment, isVarietyOnMainPlots }: SplitPlotLayout,
  variety: Factor,
): SplitPlotModel {
  const [main, within] = isVarietyOnMainPlots ? [variety, treatment] : [treatment, variety];
  const balanced =
    mainPlot.levels.length === block.levels.length * main.levels.length
      ? balancedSplitPlot(response, block, main, within)
      : null;
  if (balanced) return { fit: balanced, isBalanced: true, main, within };
  const variables = [main, within].filter((one) => one === variety || one.levels.length > 1);
  const single = variables.map((one) => [one.name]);
  const terms = single.length > 1 ? [...single, single.flat()] : single;
  const fit = mixedModel(response, variables, terms, [block, mainPlot]);
  return { fit, isBalanced: false, main, within, terms };
}
