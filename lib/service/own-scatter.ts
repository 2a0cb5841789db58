import { listTrials } from "@/db/queries/list-trials";
import type { Scatter } from "@/lib/design/what-it-tells";
import type { House } from "./house";
import { sameName } from "./same-name";
import { trialAnswerNow } from "./trial-answer";

/** With fewer degrees of freedom than this, all trials together, the usual figure is as good. */
const fewestDf = 6;

/** A mean weighted by degrees of freedom; null where they are too few. */
function pooled(figures: { figure: number; df: number }[]): number | null {
  const df = figures.reduce((sum, one) => sum + one.df, 0);
  if (df < fewestDf) return null;
  return figures.reduce((sum, one) => sum + one.figure * one.df, 0) / df;
}

/**
 * How plants and plots of a crop scattered in this garden's own trials so far: the intra-class correlation of survival and
 * the coefficient of variation of yield, each weighted by the trials' residual degrees of freedom (of squares, for the
 * coefficient). Undefined where no trial of the crop says enough.
 */
export function ownScatter(house: House, crop: string): Scatter | undefined {
  const scatters = listTrials(house.database)
    .filter((trial) => sameName(trial.crop, crop) && trial.hasObservations)
    .flatMap((trial) => trialAnswerNow(house, trial.id)?.scatter ?? []);
  const clumped = scatters.flatMap((scatter) => scatter.icc ?? []);
  const spread = scatters.flatMap((scatter) => scatter.squaredCv ?? []);
  const icc = pooled(clumped);
  const squared = pooled(spread);
  if (icc === null && squared === null) return undefined;
  const trials = Math.max(clumped.length, spread.length);
  const from = trials === 1 ? `your own trial of ${crop}` : `your own ${trials} trials of ${crop}`;
  return { icc, cv: squared === null ? null : Math.sqrt(squared), from };
}
