import { type Clumping, clumpedQuantile, clumping, type Dispersion } from "./clumping";
import { normalQuantile } from "./normal";
import { insistOnPlots, type Layout, layoutTerms, numbered, type PlotCount } from "./plot-count";
import { insist } from "./requirement";
import { weightedResidual } from "./weighted-residual";
import { wilsonInterval } from "./wilson-interval";

export interface EffectiveShare {
  variety: string;
  /** Plots that held plants. */
  plots: number;
  setOut: number;
  standing: number;
  /** Null, as are the limits and effective plants, where nothing was set out. */
  share: number | null;
  low: number | null;
  high: number | null;
  /** How many independent plants this variety's plants tell as much as. */
  effectivePlants: number | null;
  /** Plants per plot, Σ n²/Σ n. */
  clusterSize: number | null;
  /** The multiplier that took the place of z. */
  multiplier: number | null;
}

export interface EffectivePlants {
  /** Level of each interval: 1 − (1 − the level asked for)/comparisons. */
  level: number;
  dispersion: Dispersion;
  clumping: Clumping;
  /** In the order in which varieties first appear among the plots. */
  varieties: EffectiveShare[];
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
 * standing has proper limits; one plant a plot gives Wilson's interval itself.
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
  insist(level > 0 && level < 1, "effectivePlants", "0 < level < 1", level);
  insist(
    Number.isInteger(comparisons) && comparisons >= 1,
    "effectivePlants",
    "at least one comparison",
    comparisons,
  );
  const totals = varietyTotals(plots);
  const dispersion = plotDispersion(plots, layout);
  const belief = clumping(dispersion);
  const tail = (1 - level) / comparisons / 2;
  const z = -normalQuantile(tail);
  const each = 1 - 2 * tail;
  const known = new Map<number, number>();
  const varieties = totals.map(({ squares, ...total }): EffectiveShare => {
    const { setOut, standing } = total;
    if (setOut === 0)
      return {
        ...total,
        share: null,
        low: null,
        high: null,
        effectivePlants: null,
        clusterSize: null,
        multiplier: null,
      };
    const clusterSize = squares / setOut;
    const multiplier = known.get(clusterSize) ?? clumpedQuantile(belief, clusterSize, tail);
    known.set(clusterSize, multiplier);
    const effective = setOut * (z / multiplier) ** 2;
    const share = standing / setOut;
    const limits = wilsonInterval(Math.min(share * effective, effective), effective, each);
    return { ...total, share, ...limits, effectivePlants: effective, clusterSize, multiplier };
  });
  return { level: each, dispersion, clumping: belief, varieties };
}

/** The plots' scatter about the layout's terms against what independent plants would show. */
function plotDispersion(plots: readonly PlotCount[], layout: Layout): Dispersion {
  const held = plots.filter((plot) => plot.setOut > 0);
  const residual = weightedResidual(
    held.map((plot) => plot.standing / plot.setOut),
    held.map((plot) => plot.setOut),
    [...layoutTerms(held, layout), numbered(held.map((plot) => plot.variety)).codes],
  );
  return dispersionAgainst(
    residual,
    varietyTotals(held).map(({ standing, setOut }) => binomialVariance(standing, setOut)),
  );
}

/** The residual mean square set against the mean of the groups' binomial variances. */
export function dispersionAgainst(
  residual: { df: number; meanSquare: number; meanWeight: number },
  variances: readonly number[],
): Dispersion {
  const { df, meanSquare, meanWeight } = residual;
  if (df === 0) return { f: null, df, effectiveDf: 0, clusterSize: 1 };
  const sum = variances.reduce((total, variance) => total + variance, 0);
  const squares = variances.reduce((total, variance) => total + variance ** 2, 0);
  return {
    f: meanSquare / (sum / variances.length),
    df,
    effectiveDf: (df * sum ** 2) / (variances.length * squares),
    clusterSize: meanWeight,
  };
}

/** p(1 − p) at p = (x + ½)/(n + 1), which none and all standing leave above 0. */
export function binomialVariance(standing: number, setOut: number): number {
  const share = (standing + 0.5) / (setOut + 1);
  return share * (1 - share);
}

function varietyTotals(plots: readonly PlotCount[]) {
  const { codes, names } = numbered(plots.map((plot) => plot.variety));
  const totals = names.map((name) => ({
    variety: String(name),
    plots: 0,
    setOut: 0,
    standing: 0,
    squares: 0,
  }));
  plots.forEach((plot, index) => {
    const total = totals[codes[index]];
    if (plot.setOut > 0) total.plots += 1;
    total.setOut += plot.setOut;
    total.standing += plot.standing;
    total.squares += plot.setOut ** 2;
  });
  return totals;
}
