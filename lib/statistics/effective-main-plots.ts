import { type Clumping, clumping, type Dispersion } from "./clumping";
import { binomialVariance, dispersionAgainst } from "./dispersion-against";
import { type EffectiveShare, effectiveShares, groupTotals } from "./effective-shares";
import { numbered } from "./plot-count";
import { insist } from "./requirement";
import { weightedResidual } from "./weighted-residual";

/** A plot inside a main plot that a treatment was dealt to. */
export interface MainPlotCount {
  /** What whole main plots were dealt: a cover, or a sowing date. */
  treatment: string;
  mainPlot: string;
  /** Null where main plots were not dealt in blocks. */
  block: string | null;
  variety: string;
  setOut: number;
  standing: number;
}

/** A treatment's share standing; the fields as in `EffectiveShare`. */
type TreatmentShare = Omit<EffectiveShare, "group"> & { treatment: string };

export interface EffectiveMainPlots {
  level: number;
  dispersion: Dispersion;
  clumping: Clumping;
  treatments: TreatmentShare[];
}

/**
 * The share standing under each cover (or sowing date) that was dealt to whole main plots, over the varieties there.
 *
 * All plants of a main plot are one cluster, whatever the variety; few main plots tell little, and with two blocks the
 * difference is to be described, not tested. For varieties within a cover use `effectivePlants` with *variety under
 * cover* as variety and the main plot as block; for variety × cover take `moverDifference` of two such differences.
 *
 * @param plots counts per plot with its main plot, block and treatment
 * @param level confidence level
 * @param comparisons how many intervals share the error
 *
 * Conventions: main plots' shares on block + treatment, weighted with plants; variance of a treatment = mean over its
 * varieties of p(1 − p) at (x + ½)/(n + 1), since varieties differ and that is no clumping; prior on the clumping
 * ∝ cos⁶θ, for main plots hold many plants and their shared fate is smaller. Differences by `newcombeDifference`.
 * Source: our own construction, as `effectivePlants`; evidence in CALIBRATION.md.
 * Checked: tests/reference/effective-plants (R twin).
 * Example: the reference case, 3 varieties × 2 covers × 3 blocks of 8, F 4.45 on 2 df → 14.3 effective of 72 under each.
 */
export function effectiveMainPlots(
  plots: readonly MainPlotCount[],
  level: number,
  comparisons = 1,
): EffectiveMainPlots {
  for (const { standing, setOut } of plots)
    insist(
      standing >= 0 && standing <= setOut && Number.isFinite(setOut),
      "effectiveMainPlots",
      "0 ≤ standing ≤ setOut",
      `${standing} of ${setOut}`,
    );
  const mainPlots = new Map<
    string,
    { group: string; block: string | null; setOut: number; standing: number }
  >();
  for (const { treatment, mainPlot, block, setOut, standing } of plots) {
    const main = mainPlots.get(mainPlot) ?? { group: treatment, block, setOut: 0, standing: 0 };
    insist(
      main.group === treatment && main.block === block,
      "effectiveMainPlots",
      "one treatment and block a main plot",
      mainPlot,
    );
    main.setOut += setOut;
    main.standing += standing;
    mainPlots.set(mainPlot, main);
  }
  const mains = [...mainPlots.values()];
  const held = mains.filter((main) => main.setOut > 0);
  const residual = weightedResidual(
    held.map((main) => main.standing / main.setOut),
    held.map((main) => main.setOut),
    [numbered(held.map((main) => main.block)), numbered(held.map((main) => main.group))],
  );
  const dispersion = dispersionAgainst(residual, treatmentVariances(plots));
  const belief = clumping(dispersion, 6);
  const { level: each, shares } = effectiveShares(
    groupTotals(mains, (main) => main.group),
    belief,
    level,
    comparisons,
  );
  const treatments = shares.map(({ group, ...share }) => ({ treatment: group, ...share }));
  return { level: each, dispersion, clumping: belief, treatments };
}

/** For each treatment the mean binomial variance of its varieties. */
function treatmentVariances(plots: readonly MainPlotCount[]): number[] {
  const held = plots.filter((plot) => plot.setOut > 0);
  return [...new Set(held.map((plot) => plot.treatment))].map((treatment) => {
    const own = held
      .filter((plot) => plot.treatment === treatment)
      .map((plot) => ({ ...plot, group: plot.variety }));
    const variances = groupTotals(own, (plot) => plot.variety).map(({ standing, setOut }) =>
      binomialVariance(standing, setOut),
    );
    return variances.reduce((sum, variance) => sum + variance, 0) / variances.length;
  });
}
