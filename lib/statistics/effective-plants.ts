import { type Clumping, clumping, type Dispersion } from "./clumping";
import { binomialVariance, dispersionAgainst } from "./dispersion-against";
import { type EffectiveShare, effectiveShares, groupTotals } from "./effective-shares";
import { insistOnPlots, type Layout, layoutTerms, numbered, type PlotCount } from "./plot-count";
import { weightedResidual } from "./weighted-residual";

/** A variety's share standing; the fields as in `EffectiveShare`. */
type VarietyShare = Omit<EffectiveShare, "group"> & { variety: string };

export interface EffectivePlants {
  /** Level of each interval: 1 − (1 − the level asked for)/comparisons. */
  level: number;
  dispersion: Dispersion;
  clumping: Clumping;
  /** In the order in which varieties first appear among the plots. */
  varieties: VarietyShare[];
}

/**
 * The share of plants standing of each variety, averaged over the blocks of *this bed, this winter*, with limits that
 * know that plants of one plot share their fate.
 *
 * Each variety's plants are cut down to *effective plants* n* = n(z/k)², where k allows for every degree of clumping in
 * proportion to its weight given the plots' scatter; Wilson's interval then stands at n*. For a difference hand two
 * varieties' shares and effective plants to `newcombeDifference` at the returned level. Not for other beds or winters
 * (pool winters for that), nor where plants were taken out whole (limits at each date of the standing curve).
 *
 * @param plots counts per plot, in any order; a plot with nothing set out counts for nothing
 * @param layout terms fitted beside variety: none, blocks, or rows and columns
 * @param level confidence level, e.g. 0.95
 * @param comparisons how many intervals share the error: 1, or varieties − 1 for a family against the check
 *
 * Conventions: p = standing/setOut on the layout's terms by least squares weighted with plants; the variance of a
 * variety at (x + ½)/(n + 1). Varieties under covers on main plots: give `cover variety` as variety and the main plot as
 * block.
 * Edges: no residual df (one plot a variety, one block) leaves the prior alone, and the caller says so; none or all
 * standing has proper limits; one plant a plot gives Wilson's interval itself. Beside many varieties that nearly all
 * live (0.98) one that does not is covered less than said where plants clump: 89 % at ICC 0.2, 86 % at 0.3, at worst.
 * Source: our own construction of published parts (wilson-1927, newcombe-1998-difference, a prior on the ICC); it is
 * not a published interval, and its evidence is CALIBRATION.md.
 * Checked: tests/reference/effective-plants (by hand, R twin, plain twin).
 * Example: four varieties × three plots of 8 with 7,5,8; 4,2,6; 8,7,8; 1,0,3 standing → 15.95 effective of 24 each;
 * the first stands at 83 %, 59 to 95 %.
 */
export function effectivePlants(
  plots: readonly PlotCount[],
  layout: Layout,
  level: number,
  comparisons = 1,
): EffectivePlants {
  insistOnPlots("effectivePlants", plots, layout);
  const held = plots.filter((plot) => plot.setOut > 0);
  const residual = weightedResidual(
    held.map((plot) => plot.standing / plot.setOut),
    held.map((plot) => plot.setOut),
    [...layoutTerms(held, layout), numbered(held.map((plot) => plot.variety))],
  );
  const variances = groupTotals(held, varietyOf).map(({ standing, setOut }) =>
    binomialVariance(standing, setOut),
  );
  const dispersion = dispersionAgainst(residual, variances);
  const belief = clumping(dispersion);
  const { level: each, shares } = effectiveShares(groupTotals(plots, varietyOf), belief, level, comparisons);
  const varieties = shares.map(({ group, ...share }) => ({ variety: group, ...share }));
  return { level: each, dispersion, clumping: belief, varieties };
}

const varietyOf = (plot: PlotCount) => plot.variety;
