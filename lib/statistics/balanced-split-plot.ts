import { Matrix } from "ml-matrix";
import { fUpper } from "./f-distribution";
import { crossedFactor, type Factor } from "./factor";
import { type FittedModel, linearModel } from "./linear-model";
import type { VarianceComponent } from "./mixed-model";
import { insist } from "./requirement";
import { noVarianceRatio, type VarianceRatio } from "./variance-ratio";

/** A layer of the layout with the mean square of what its treatments leave over there. */
export interface Stratum {
  /** Names of the factors that make its units. */
  stratum: string;
  df: number;
  ms: number | null;
}

export interface SplitPlot extends FittedModel {
  /** Blocks; main plots within blocks; plots within main plots. */
  strata: Stratum[];
  /** From the mean squares; one that would be below zero is 0, *at zero*. The tests do not use them. */
  components: VarianceComponent[];
  /** Of the main-plot factor, the factor within main plots, and their interaction. */
  tests: (VarianceRatio & { term: string })[];
}

/**
 * The analysis of a split plot with every plot in place, each effect against the error of its own stratum.
 *
 * For covers (or sowing dates) on main plots with varieties within, and for repeated harvests of plots in blocks
 * (`sub` the harvest). With plots missing use `mixedModel`.
 *
 * @param response one finite number a plot
 * @param block, main, sub every combination exactly once
 * @returns fit for `marginalMeans` and `contrast`; null where a combination is missing or doubled, or a factor has one level
 *
 * Conventions: blocks are random, so that the standard error of a mean (not of a difference) holds their scatter; a
 * contrast in several strata has its variance from all of them, with Satterthwaite's df; variances are never bounded at
 * zero on the way to a standard error.
 * Edges: one block has no df; a stratum that leaves nothing over gives no F for what is tested there.
 * Source: cochran-cox-1957, chapter 7; satterthwaite-1946.
 * Checked: tests/reference/mixed-model (R aov with Error; pbkrtest gives the same df), tests/property/linear-and-mixed-laws.test.ts.
 * Example: Yates's oats → varieties against 601.3 on 10 df, nitrogen and interaction against 177.1 on 45 df.
 */
export function balancedSplitPlot(
  response: readonly number[],
  block: Factor,
  main: Factor,
  sub: Factor,
): SplitPlot | null {
  insist(
    [block, main, sub].every(({ codes }) => codes.length === response.length),
    "balancedSplitPlot",
    "a block, main-plot level and level within for every response",
    response.length,
  );
  const [blocks, mains, subs] = [block, main, sub].map(({ levels }) => levels.length);
  const cells = new Set(
    response.map((_, plot) => `${block.codes[plot]} ${main.codes[plot]} ${sub.codes[plot]}`),
  );
  const whole = cells.size === blocks * mains * subs && cells.size === response.length;
  if (!whole || mains < 2 || subs < 2) return null;

  const terms = [[main.name], [sub.name], [main.name, sub.name]];
  const fit = linearModel(response, [main, sub], terms);
  const plots = crossedFactor("main plots", [block, main]);
  const unitsOf = [block, plots];
  // Each level's mean of what the treatments leave over, squared and summed over its plots.
  const [ofBlocks, ofPlots] = unitsOf.map((units) => spreadOfMeans(fit.residuals, units));
  const left = fit.residuals.reduce((sum, value) => sum + value * value, 0);
  const stratum = (names: string[], df: number, ss: number): Stratum => ({
    stratum: names.join(" × "),
    df,
    ms: df === 0 ? null : Math.max(0, ss) / df,
  });
  const inMain = (blocks - 1) * (mains - 1);
  const strata = [
    stratum([block.name], blocks - 1, ofBlocks),
    stratum([block.name, main.name], inMain, clean(ofPlots - ofBlocks, left)),
    stratum(["residual"], (blocks - 1) * mains * (subs - 1), clean(left - ofPlots, left)),
  ];

  const u = fit.unscaled;
  const x = new Matrix(fit.kept.map((place) => Array.from(fit.design.columns[place]))).transpose();
  const xx = x.transpose().mmul(x);
  const [xbx, xmx] = unitsOf.map((units) => projected(x, units));
  const shares = [xbx, Matrix.sub(xmx, xbx), Matrix.sub(xx, xmx)].map((inner) =>
    withoutDust(u.mmul(inner).mmul(u), u.max()),
  );
  const covariance = Matrix.zeros(fit.rank, fit.rank);
  for (const [layer, { ms }] of strata.entries()) covariance.add(Matrix.mul(shares[layer], ms ?? 0));
  const dfOf = (weights: Float64Array) => {
    const row = Matrix.rowVector(weights);
    const scale = row.mmul(u).mmul(row.transpose()).get(0, 0);
    let [variance, spread] = [0, 0];
    for (const [layer, { df, ms }] of strata.entries()) {
      const share = row.mmul(shares[layer]).mmul(row.transpose()).get(0, 0);
      if (df === 0 || ms === null || share <= 1e-10 * scale) continue;
      variance += share * ms;
      spread += (share * ms) ** 2 / df;
    }
    return spread === 0 ? strata[1].df : variance ** 2 / spread;
  };
  const components = componentsOf(strata, mains, subs);
  return {
    design: fit.design,
    kept: fit.kept,
    coefficients: fit.coefficients,
    covariance: blocks === 1 ? null : covariance,
    aliases: fit.aliases,
    leavesNothing: fit.leavesNothing,
    dfOf,
    strata,
    components,
    tests: terms.map((term, index) => {
      const error = strata[index === 0 ? 1 : 2];
      const own = fit.kept.flatMap((place, k) =>
        fit.design.termOf[place] === index ? [fit.columnSs[k]] : [],
      );
      const name = term.join(" × ");
      if (error.ms === null) return { term: name, ...noVarianceRatio(own.length, "no residual df") };
      if (error.ms === 0) return { term: name, ...noVarianceRatio(own.length, "no variation") };
      const f = own.reduce((sum, ss) => sum + ss, 0) / own.length / error.ms;
      const p = fUpper(f, own.length, error.df);
      return { term: name, f, df1: own.length, df2: error.df, p, reason: null };
    }),
  };
}

/** What rounding leaves of a sum of squares that is zero counts as zero. */
const clean = (ss: number, whole: number) => (ss <= 1e-13 * whole ? 0 : ss);

/** Entries that are rounding alone become 0, or a stratum that a contrast does not touch would lend it an error. */
function withoutDust(matrix: Matrix, scale: number): Matrix {
  for (let row = 0; row < matrix.rows; row += 1)
    for (let column = 0; column < matrix.columns; column += 1)
      if (Math.abs(matrix.get(row, column)) <= 1e-12 * scale) matrix.set(row, column, 0);
  return matrix;
}

function spreadOfMeans(values: Float64Array, { levels, codes }: Factor): number {
  const [sums, counts] = [new Float64Array(levels.length), new Float64Array(levels.length)];
  for (const [plot, code] of codes.entries()) {
    sums[code] += values[plot];
    counts[code] += 1;
  }
  return sums.reduce((total, sum, level) => total + sum ** 2 / counts[level], 0);
}

/** X'PX, where P takes each observation to the mean of its unit. */
function projected(x: Matrix, { levels, codes }: Factor): Matrix {
  const totals = Matrix.zeros(levels.length, x.columns);
  const counts = new Float64Array(levels.length);
  for (const [plot, code] of codes.entries()) {
    counts[code] += 1;
    for (let column = 0; column < x.columns; column += 1)
      totals.set(code, column, totals.get(code, column) + x.get(plot, column));
  }
  for (let level = 0; level < levels.length; level += 1) totals.mulRow(level, 1 / Math.sqrt(counts[level]));
  return totals.transpose().mmul(totals);
}

function componentsOf(strata: readonly Stratum[], mains: number, subs: number): VarianceComponent[] {
  const [ofBlocks, ofPlots, within] = strata.map(({ ms }) => ms);
  const bounded = (component: string, estimate: number | null): VarianceComponent => {
    if (estimate === null) return { component, estimate, reason: "not estimable" };
    return estimate > 0
      ? { component, estimate, reason: null }
      : { component, estimate: 0, reason: "at zero" };
  };
  const less = (upper: number | null, lower: number | null, plotsEach: number) =>
    upper === null || lower === null ? null : (upper - lower) / plotsEach;
  return [
    bounded(strata[0].stratum, less(ofBlocks, ofPlots, mains * subs)),
    bounded(strata[1].stratum, less(ofPlots, within, subs)),
    bounded("residual", within),
  ];
}
