import { insist } from "./requirement";

/**
 * Weighted least squares of plots' values on a layout's terms and variety, made ready to be done again for many deals:
 * the terms stay, only the labels change.
 */
export interface DealtFit {
  /** Fits one deal; what follows then belongs to it. */
  fit(labels: Uint8Array): void;
  /** Residual sum of squares on `df`. */
  residual: number;
  df: number;
  /** What variety takes from the sum of squares left by the terms. */
  explained: number;
  /** Whether two varieties meet, in one block or by way of others. */
  estimable(a: number, b: number): boolean;
  /** Least-squares difference of two varieties that meet. */
  difference(a: number, b: number): number;
  /** Its variance over the residual variance. */
  varianceFactor(a: number, b: number): number;
}

/**
 * @param values one a plot (any number where the weight is 0)
 * @param weights ≥ 0; a plot with weight 0 was dealt a label but tells nothing
 * @param terms codes per plot of each term but variety (none for a completely randomised layout)
 * @param varieties how many labels there are
 *
 * Conventions: the terms are swept out once; each deal then solves varieties × varieties equations. When all weights are
 * equal the equations are the same for every deal of a layout, so they are solved once.
 */
export function dealtFit(
  values: readonly number[],
  weights: readonly number[],
  terms: readonly (readonly number[])[],
  varieties: number,
): DealtFit {
  const held = weights.flatMap((weight, plot) => (weight > 0 ? [plot] : []));
  insist(held.length > 0, "dealtFit", "at least one plot with something in it", 0);
  const size = held.length;
  const basis = termBasis(
    held.map((plot) => weights[plot]),
    terms.map((codes) => held.map((plot) => codes[plot])),
  );
  // Sweeping the terms out of √w-scaled values leaves r; W½ r is what each plot adds to its variety's right-hand side.
  const root = Float64Array.from(held, (plot) => Math.sqrt(weights[plot]));
  const left = Float64Array.from(held, (plot, index) => values[plot] * root[index]);
  for (let pass = 0; pass < 2; pass += 1)
    for (const column of basis) {
      const amount = dot(left, column);
      for (let index = 0; index < size; index += 1) left[index] -= amount * column[index];
    }
  const scatter = dot(left, left);
  const share = left.map((value, index) => value * root[index]);
  // What plots k and l add to the equations of their varieties: W − W½ Q Q′ W½, kept only where it is not 0.
  const near: { other: number[]; amount: number[] }[] = held.map((_, k) => {
    const other: number[] = [];
    const amount: number[] = [];
    for (let l = 0; l < size; l += 1) {
      let value = k === l ? weights[held[k]] : 0;
      for (const column of basis) value -= root[k] * column[k] * column[l] * root[l];
      if (Math.abs(value) > 1e-12 * (root[k] * root[l])) {
        other.push(l);
        amount.push(value);
      }
    }
    return { other, amount };
  });
  const equal =
    size === weights.length && weights.every((weight) => Math.abs(weight - weights[0]) < 1e-12 * weights[0]);

  const label = new Uint8Array(size);
  const right = new Float64Array(varieties);
  let solved: Solved | null = null;
  const solve = (): Solved => {
    const matrix = new Float64Array(varieties * varieties);
    for (let k = 0; k < size; k += 1) {
      const { other, amount } = near[k];
      const row = label[k] * varieties;
      for (let index = 0; index < other.length; index += 1)
        matrix[row + label[other[index]]] += amount[index];
    }
    const { inverse, rank } = generalInverse(matrix, varieties);
    return { matrix, inverse, rank, diagonal: equal ? diagonalInverse(matrix, varieties, label) : null };
  };
  const cell = (row: number, column: number) => {
    if (!solved) return 0;
    if (solved.diagonal) return row === column ? solved.diagonal[row] : 0;
    return solved.inverse[row * varieties + column];
  };

  const state: DealtFit = {
    residual: scatter,
    df: 0,
    explained: 0,
    fit(labels) {
      right.fill(0);
      if (solved && equal) {
        for (let plot = 0; plot < size; plot += 1) right[labels[plot]] += share[plot];
      } else {
        for (let index = 0; index < size; index += 1) {
          label[index] = labels[held[index]];
          right[label[index]] += share[index];
        }
        solved = solve();
      }
      const { diagonal, inverse, rank } = solved;
      let explained = 0;
      if (diagonal) {
        for (let row = 0; row < varieties; row += 1) explained += right[row] * right[row] * diagonal[row];
      } else {
        for (let row = 0; row < varieties; row += 1) {
          let value = 0;
          for (let column = 0; column < varieties; column += 1)
            value += inverse[row * varieties + column] * right[column];
          explained += right[row] * value;
        }
      }
      state.explained = explained;
      state.df = size - basis.length - rank;
      // Rounding may leave less than nothing where variety explains all there is.
      state.residual = scatter - explained > 1e-12 * scatter ? scatter - explained : 0;
    },
    estimable(a, b) {
      if (!solved) return false;
      if (solved.rank === varieties - 1) return true;
      // A contrast c can be estimated when A G c = c.
      for (let row = 0; row < varieties; row += 1) {
        let value = (row === b ? 1 : 0) - (row === a ? 1 : 0);
        for (let column = 0; column < varieties; column += 1)
          value += solved.matrix[row * varieties + column] * (cell(column, a) - cell(column, b));
        if (Math.abs(value) > 1e-6) return false;
      }
      return true;
    },
    difference(a, b) {
      if (solved?.diagonal) return right[a] * solved.diagonal[a] - right[b] * solved.diagonal[b];
      let value = 0;
      for (let column = 0; column < varieties; column += 1)
        value += (cell(a, column) - cell(b, column)) * right[column];
      return value;
    },
    varianceFactor: (a, b) => cell(a, a) + cell(b, b) - 2 * cell(a, b),
  };
  return state;
}

interface Solved {
  matrix: Float64Array;
  inverse: Float64Array;
  rank: number;
  /** 1/(plants or plots) of each variety where that solves the equations too, as in orthogonal layouts. */
  diagonal: Float64Array | null;
}

/** Orthonormal columns of the terms with the mean, on the scale √weight. */
function termBasis(weights: number[], terms: number[][]): Float64Array[] {
  const factors = [weights.map(() => 0), ...terms];
  const basis: Float64Array[] = [];
  for (const codes of factors) {
    for (const level of new Set(codes)) {
      const column = Float64Array.from(weights, (weight, plot) =>
        codes[plot] === level ? Math.sqrt(weight) : 0,
      );
      const length = Math.sqrt(dot(column, column));
      for (let pass = 0; pass < 2; pass += 1)
        for (const earlier of basis) {
          const amount = dot(column, earlier);
          for (let index = 0; index < column.length; index += 1) column[index] -= amount * earlier[index];
        }
      const rest = Math.sqrt(dot(column, column));
      if (rest <= 1e-9 * length) continue;
      basis.push(column.map((value) => value / rest));
    }
  }
  return basis;
}

/** A generalized inverse of a symmetric, non-negative matrix: dependent rows and columns are left at 0. */
function generalInverse(matrix: Float64Array, order: number): { inverse: Float64Array; rank: number } {
  const work = Float64Array.from(matrix);
  const inverse = new Float64Array(order * order);
  for (let index = 0; index < order; index += 1) inverse[index * order + index] = 1;
  const kept = new Array<boolean>(order).fill(false);
  for (let pivot = 0; pivot < order; pivot += 1) {
    const size = work[pivot * order + pivot];
    if (size <= 1e-9 * matrix[pivot * order + pivot]) continue;
    kept[pivot] = true;
    for (let column = 0; column < order; column += 1) {
      work[pivot * order + column] /= size;
      inverse[pivot * order + column] /= size;
    }
    for (let row = 0; row < order; row += 1) {
      const factor = work[row * order + pivot];
      if (row === pivot || factor === 0) continue;
      for (let column = 0; column < order; column += 1) {
        work[row * order + column] -= factor * work[pivot * order + column];
        inverse[row * order + column] -= factor * inverse[pivot * order + column];
      }
    }
  }
  for (let row = 0; row < order; row += 1)
    for (let column = 0; column < order; column += 1)
      if (!kept[row] || !kept[column]) inverse[row * order + column] = 0;
  return { inverse, rank: kept.filter(Boolean).length };
}

/** The inverse of what each variety holds, where that is a generalized inverse of the equations; else null. */
function diagonalInverse(matrix: Float64Array, order: number, label: Uint8Array): Float64Array | null {
  const plots = new Float64Array(order);
  for (const variety of label) plots[variety] += 1;
  const total = label.length;
  // In an orthogonal layout the equations are c (N − N N′/total): c follows from the first variety's own cell.
  const first = label[0];
  const scale = matrix[first * order + first] / (plots[first] - (plots[first] * plots[first]) / total);
  if (!Number.isFinite(scale)) return null;
  for (let row = 0; row < order; row += 1)
    for (let column = 0; column < order; column += 1) {
      const wanted = scale * ((row === column ? plots[row] : 0) - (plots[row] * plots[column]) / total);
      if (Math.abs(wanted - matrix[row * order + column]) > 1e-9 * scale) return null;
    }
  return plots.map((count) => (count > 0 ? 1 / (scale * count) : 0));
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let index = 0; index < a.length; index += 1) sum += a[index] * b[index];
  return sum;
}
