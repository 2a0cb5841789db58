import { normalVariate } from "@/lib/statistics/clumped-count";
import type { RandomStream } from "@/lib/statistics/random-stream";
import { neighbourhood } from "./layout";
import type { EmptyTrial } from "./made-up-trial";
import type { RecordPlot } from "./trial-record";
import type { ModelPlot } from "./yield-model";
import { type YieldRatio, yieldRatios } from "./yield-ratio";

export interface MadeUpYields {
  /** True yield of each plot's variety over the check's. */
  ratio: (plot: RecordPlot) => number;
  /** Standard deviation of log yield from plot to plot, which is the coefficient of variation. */
  cv: number;
  level: number;
  stream: RandomStream;
}

/**
 * Makes up what every plot of a layout would yield and puts it through the analysis that the results use: each variety's
 * multiple of the check, with its limits, beside whatever the layout takes out (blocks, small blocks, main plots, rows and
 * columns). For planning only: how often a true multiple would be seen.
 *
 * Conventions: log yields are normal; what the layout takes out differs by as much as plots do.
 */
export function madeUpYields(trial: EmptyTrial, { ratio, cv, level, stream }: MadeUpYields): YieldRatio[] {
  const ground = new Map<string, number>();
  const liesIn = (place: string | null) => {
    if (place === null) return 0;
    const own = ground.get(place) ?? cv * normalVariate(stream);
    ground.set(place, own);
    return own;
  };
  const groundOf = (plot: RecordPlot) =>
    trial.design === "latin"
      ? liesIn(`row ${plot.row}`) + liesIn(`column ${plot.column}`)
      : liesIn(neighbourhood(plot, trial.design));
  const plots = trial.plots.map(
    (plot): ModelPlot => ({
      plot,
      response: Math.exp(Math.log(ratio(plot)) + groundOf(plot) + cv * normalVariate(stream)),
    }),
  );
  return yieldRatios(trial, plots, level);
}
