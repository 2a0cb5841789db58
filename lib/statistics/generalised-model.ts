import { inverse, Matrix, QrDecomposition } from "ml-matrix";
import { columnMakeUp } from "./column-make-up";
import type { DesignMatrix } from "./design-matrix";
import { independentColumns } from "./independent-columns";
import type { FittedModel } from "./linear-model";
import { insist } from "./requirement";

/** How a row's mean hangs on its linear predictor, and how its response scatters about the mean. */
export interface Family {
  mean(predictor: number): number;
  predictor(mean: number): number;
  /** Derivative of the mean, given predictor and mean. */
  slope(predictor: number, mean: number): number;
  /** Variance of a row of weight 1. */
  variance(mean: number): number;
  /** Contribution to the deviance of a row of weight 1. */
  deviance(response: number, mean: number): number;
  /**
   * Curvature of a row's log likelihood in its predictor, where that is always positive and is not what is expected of
   * it: steps by it close in faster. Covariances stay with the expected.
   */
  bend?(response: number, mean: number): number;
  /** A mean to start from, off the edge. */
  start(response: number, weight: number): number;
  /** Whether a mean has run to an edge where its row says nothing more. */
  atEdge(response: number, mean: number, weight: number): boolean;
}

/** *Known*: the family's variance is right and limits are normal. *Pearson*: it is right up to a factor, estimated from
 * the rows; limits by t on the residual df. */
export type Dispersion = "known" | "pearson";

/** A fitted model on the scale of the linear predictor; hand it to `contrast` and `marginalMeans`. */
export interface GeneralisedModel extends FittedModel {
  deviance: number;
  /** Of the model with the mean alone. */
  nullDeviance: number;
  pearson: number;
  residualDf: number;
  /** Rows that were used: those of weight above 0. */
  rows: number;
  /** 1 when known; null where it was to be estimated from no residual df. */
  dispersion: number | null;
  /** Mean of each row, also of those without weight. */
  fitted: Float64Array;
  /** Covariance of the coefficients at dispersion 1. */
  unscaled: Matrix;
  /** Columns whose coefficient runs to ±∞: all lost, none lost, no counts. */
  endless: string[];
}

/**
 * Maximum likelihood (or quasi-likelihood) of a generalised linear model, by iteratively reweighted least squares.
 *
 * Where a group sits at the edge (all lost, none lost, nothing counted) its coefficient has no finite estimate. Its rows
 * then fit perfectly and say nothing more, so they are set aside: contrasts that need an endless coefficient come out as
 * not estimable, all others exactly as in the limit.
 *
 * @param statistic named in errors
 * @param response one a row, on the mean's scale
 * @param weights ≥ 0 a row; a row of weight 0 is not used
 * @param offset added to each row's linear predictor
 * @param from means to start from, where a like model has been fitted
 *
 * Conventions: QR at each step; the step is halved while the deviance rises; stops when the deviance does (1e-14) and
 * the coefficients have settled (1e-11) or march off.
 * Source: mccullagh-nelder-1989, section 2.5.
 */
export function generalisedModel(
  statistic: string,
  design: DesignMatrix,
  response: Float64Array,
  weights: Float64Array,
  offset: Float64Array,
  family: Family,
  scatter: Dispersion,
  from?: Float64Array,
): GeneralisedModel {
  insist(design.observations === response.length, statistic, "a response per observation", response.length);
  const rows = Array.from(weights.keys()).filter((row) => weights[row] > 0);
  const whole = fitRows(design, rows, response, weights, offset, family, from?.map(family.predictor));
  const told = rows.filter((row) => !family.atEdge(response[row], whole.fitted[row], weights[row]));
  const fit =
    told.length === rows.length
      ? whole
      : fitRows(design, told, response, weights, offset, family, whole.predictor);
  const fitted = Float64Array.from(design.columns[0], (_, row) =>
    told.includes(row) || weights[row] === 0 ? fit.fitted[row] : whole.fitted[row],
  );
  let deviance = 0;
  let pearson = 0;
  for (const row of told) {
    deviance += weights[row] * family.deviance(response[row], fitted[row]);
    pearson += (weights[row] * (response[row] - fitted[row]) ** 2) / family.variance(fitted[row]);
  }
  const residualDf = rows.length - whole.kept.length;
  const dispersion = scatter === "known" ? 1 : residualDf === 0 ? null : pearson / residualDf;
  return {
    design,
    kept: fit.kept,
    coefficients: fit.coefficients,
    covariance: dispersion === null || fit.kept.length === 0 ? null : Matrix.mul(fit.unscaled, dispersion),
    aliases: fit.aliases,
    leavesNothing: scatter === "pearson" && (dispersion ?? 0) < 1e-20,
    dfOf: () => (scatter === "known" ? Number.POSITIVE_INFINITY : residualDf),
    deviance,
    nullDeviance: nullDeviance(design, rows, response, weights, offset, family),
    pearson,
    residualDf,
    rows: rows.length,
    dispersion,
    fitted,
    unscaled: fit.unscaled,
    endless: whole.kept.filter((place) => !fit.kept.includes(place)).map((place) => design.names[place]),
  };
}

interface RowsFit {
  kept: number[];
  coefficients: Float64Array;
  unscaled: Matrix;
  aliases: [number, Float64Array][];
  predictor: Float64Array;
  fitted: Float64Array;
}

function fitRows(
  design: DesignMatrix,
  rows: readonly number[],
  response: Float64Array,
  weights: Float64Array,
  offset: Float64Array,
  family: Family,
  from?: Float64Array,
): RowsFit {
  const columns = design.columns.map((column) => Float64Array.from(rows, (row) => column[row]));
  const kept = independentColumns(columns);
  const size = kept.length;
  const spread = (coefficients: Float64Array) =>
    Float64Array.from(design.columns[0], (_, row) =>
      kept.reduce((sum, place, k) => sum + coefficients[k] * design.columns[place][row], offset[row]),
    );
  const deviance = (predictor: Float64Array) =>
    rows.reduce(
      (sum, row) => sum + weights[row] * family.deviance(response[row], family.mean(predictor[row])),
      0,
    );
  // One weighted least-squares fit about a linear predictor.
  const step = (predictor: Float64Array) => {
    const x = new Matrix(rows.length, size);
    const z = new Matrix(rows.length, 1);
    for (const [index, row] of rows.entries()) {
      const mean = family.mean(predictor[row]);
      const slope = family.slope(predictor[row], mean);
      const pull = ((response[row] - mean) * slope) / family.variance(mean);
      const bend = family.bend?.(response[row], mean) ?? (slope * slope) / family.variance(mean);
      const root = Math.sqrt(weights[row] * bend);
      for (let k = 0; k < size; k += 1) x.set(index, k, root * columns[kept[k]][index]);
      z.set(index, 0, root * (predictor[row] - offset[row] + pull / bend));
    }
    return Float64Array.from(new QrDecomposition(x).solve(z).to1DArray());
  };
  const unscaledAt = (predictor: Float64Array) => {
    const x = new Matrix(rows.length, size);
    for (const [index, row] of rows.entries()) {
      const mean = family.mean(predictor[row]);
      const slope = family.slope(predictor[row], mean);
      const root = Math.sqrt((weights[row] * slope * slope) / family.variance(mean));
      for (let k = 0; k < size; k += 1) x.set(index, k, root * columns[kept[k]][index]);
    }
    const rootInverse = inverse(new QrDecomposition(x).upperTriangularMatrix);
    return rootInverse.mmul(rootInverse.transpose());
  };
  if (size === 0)
    return {
      kept: [],
      coefficients: new Float64Array(0),
      unscaled: new Matrix(0, 0),
      aliases: columnMakeUp(columns, []),
      predictor: offset,
      fitted: offset.map(family.mean),
    };

  let predictor =
    from ?? response.map((value, row) => family.predictor(family.start(value, Math.max(weights[row], 1))));
  let coefficients = step(predictor);
  predictor = spread(coefficients);
  let height = deviance(predictor);
  for (let round = 0; round < 200; round += 1) {
    let tried = step(predictor);
    let at = spread(tried);
    let next = deviance(at);
    for (let half = 0; half < 30 && !(next <= height + 1e-12 * (1 + height)); half += 1) {
      tried = tried.map((value, k) => (value + coefficients[k]) / 2);
      at = spread(tried);
      next = deviance(at);
    }
    const flat = Math.abs(next - height) <= 1e-14 * (0.1 + height);
    const moved = Math.max(
      ...tried.map((value, k) => Math.abs(value - coefficients[k]) / (1 + Math.abs(value))),
    );
    coefficients = tried;
    predictor = at;
    height = next;
    // On a flat deviance a coefficient either settles or, endless, keeps marching off.
    if (flat && (moved < 1e-11 || moved > 0.01)) break;
  }
  return {
    kept,
    coefficients,
    unscaled: unscaledAt(predictor),
    aliases: columnMakeUp(columns, kept),
    predictor,
    fitted: predictor.map(family.mean),
  };
}

function nullDeviance(
  design: DesignMatrix,
  rows: readonly number[],
  response: Float64Array,
  weights: Float64Array,
  offset: Float64Array,
  family: Family,
): number {
  const mean = { ...design, columns: design.columns.slice(0, 1), names: ["mean"], termOf: [-1], terms: [] };
  const { fitted } = fitRows(mean, rows, response, weights, offset, family);
  return rows.reduce((sum, row) => {
    if (family.atEdge(response[row], fitted[row], weights[row])) return sum;
    return sum + weights[row] * family.deviance(response[row], fitted[row]);
  }, 0);
}
