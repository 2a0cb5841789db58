import { listTrials } from "@/db/queries/list-trials";
import type { Scatter } from "@/lib/design/what-it-tells";
import type { House } from "./house";
import { sameName } from "./same-name";
import { trialFindings } from "./trial-findings";

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
  const findings = listTrials(house.database)
    .filter((trial) => sameName(trial.crop, crop) && trial.hasObservations)
    .flatMap((trial) => trialFindings(house, trial.id) ?? []);
  const clumped = findings.flatMap(({ survival }) =>
    survival && survival.value.icc !== null && survival.value.df > 0
      ? [{ figure: survival.value.icc, df: survival.value.df }]
      : [],
  );
  const spread = findings.flatMap((finding) => {
    const found = finding.yield?.value;
    return found && found.cv !== null && found.residualDf > 0
      ? [{ figure: (found.cv / 100) ** 2, df: found.residualDf }]
      : [];
  });
  const icc = pooled(clumped);
  const squared = pooled(spread);
  if (icc === null && squared === null) return undefined;
  const trials = Math.max(clumped.length, spread.length);
  const from = trials === 1 ? `your own trial of ${crop}` : `your own ${trials} trials of ${crop}`;
  return { icc, cv: squared === null ? null : Math.sqrt(squared), from };
}
