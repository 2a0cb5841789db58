import { EigenvalueDecomposition, Matrix } from "ml-matrix";

/**
 * Loadings of variables on the fewest shared factors, two at least, that make up their correlations: r_ij = Σ λ_if λ_jf
 * for every i ≠ j, what is left of each variable being its own.
 *
 * For integrals over correlated variables, which then need as many dimensions as there are factors; not for factor
 * analysis of noisy correlations. Contrasts of varieties in blocks share at most one factor for each block that misses
 * plots, and one more.
 *
 * @param correlations symmetric, 1 on the diagonal
 * @param most factors tried
 * @param tolerance largest difference to any correlation
 * @returns a list of loadings for each variable, the factor that carries most first; null where so few do not suffice,
 * or leave a variable nothing of its own
 *
 * Convention: alternating least squares on the off-diagonal elements, from the principal axes; then turned so that
 * factors are orthogonal.
 * Checked: tests/unit/statistics/multiple-comparisons.test.ts (correlations made from known factors).
 */
export function factorLoadings(
  correlations: readonly (readonly number[])[],
  most: number,
  tolerance: number,
): number[][] | null {
  for (let factors = 2; factors <= Math.min(most, correlations.length - 1); factors += 1) {
    const loadings = principalStart(correlations, factors);
    if (settle(correlations, loadings, tolerance)) return turned(loadings);
  }
  return null;
}

/** Principal axes of the correlations, each variable's shared part guessed at its largest correlation. */
function principalStart(correlations: readonly (readonly number[])[], factors: number): Float64Array[] {
  const guessed = correlations.map((row, i) => {
    const shared = row.reduce((top, value, j) => (j === i ? top : Math.max(top, Math.abs(value))), 0);
    return row.map((value, j) => (j === i ? shared : value));
  });
  const { realEigenvalues, eigenvectorMatrix } = new EigenvalueDecomposition(new Matrix(guessed), {
    assumeSymmetric: true,
  });
  const largest = [...realEigenvalues.keys()].sort((a, b) => realEigenvalues[b] - realEigenvalues[a]);
  return correlations.map((_, i) =>
    Float64Array.from(
      { length: factors },
      (_, f) => eigenvectorMatrix.get(i, largest[f]) * Math.sqrt(Math.max(1e-6, realEigenvalues[largest[f]])),
    ),
  );
}

/** Moves loadings in place until they make up the correlations; false where they do not get there. */
function settle(
  correlations: readonly (readonly number[])[],
  loadings: Float64Array[],
  tolerance: number,
): boolean {
  const factors = loadings[0].length;
  const squares = new Float64Array(factors * factors);
  const crossed = new Float64Array(factors);
  let before = Number.POSITIVE_INFINITY;
  for (let sweep = 1; sweep <= 200; sweep += 1) {
    for (let i = 0; i < loadings.length; i += 1) {
      squares.fill(0);
      crossed.fill(0);
      for (let j = 0; j < loadings.length; j += 1) {
        if (j === i) continue;
        for (let f = 0; f < factors; f += 1) {
          crossed[f] += correlations[i][j] * loadings[j][f];
          for (let g = 0; g < factors; g += 1) squares[f * factors + g] += loadings[j][f] * loadings[j][g];
        }
      }
      solveInto(loadings[i], squares, crossed);
    }
    if (sweep % 10 !== 0) continue;
    const off = largestGap(correlations, loadings);
    // A hundredfold inside the tolerance, so that variables alike come out alike.
    if (off <= tolerance / 100) break;
    // Too few factors stop short of the correlations; there is no use in going on.
    if (off > tolerance && off > 0.9 * before) return false;
    before = off;
  }
  const shared = Math.max(...loadings.map((row) => row.reduce((sum, value) => sum + value * value, 0)));
  return shared < 0.999 && largestGap(correlations, loadings) <= tolerance;
}

function largestGap(correlations: readonly (readonly number[])[], loadings: readonly Float64Array[]): number {
  let most = 0;
  for (let i = 0; i < loadings.length; i += 1)
    for (let j = 0; j < i; j += 1) {
      let made = 0;
      for (let f = 0; f < loadings[i].length; f += 1) made += loadings[i][f] * loadings[j][f];
      most = Math.max(most, Math.abs(correlations[i][j] - made));
    }
  return most;
}

/** Gauss–Jordan on a small symmetric system; the ridge keeps a factor that nobody else carries from running away. */
function solveInto(out: Float64Array, squares: Float64Array, right: Float64Array): void {
  const order = out.length;
  const left = Float64Array.from(squares);
  for (let k = 0; k < order; k += 1) {
    left[k * order + k] += 1e-14;
    out[k] = right[k];
  }
  for (let pivot = 0; pivot < order; pivot += 1) {
    const size = left[pivot * order + pivot];
    for (let row = 0; row < order; row += 1) {
      if (row === pivot) continue;
      const times = left[row * order + pivot] / size;
      for (let column = pivot; column < order; column += 1)
        left[row * order + column] -= times * left[pivot * order + column];
      out[row] -= times * out[pivot];
    }
  }
  for (let k = 0; k < order; k += 1) out[k] /= left[k * order + k];
}

/** The same loadings turned to orthogonal factors, the one that carries most first. */
function turned(loadings: readonly Float64Array[]): number[][] {
  const given = new Matrix(loadings.map((row) => Array.from(row)));
  const { realEigenvalues, eigenvectorMatrix } = new EigenvalueDecomposition(given.transpose().mmul(given), {
    assumeSymmetric: true,
  });
  const largest = [...realEigenvalues.keys()].sort((a, b) => realEigenvalues[b] - realEigenvalues[a]);
  const axes = given.mmul(eigenvectorMatrix);
  return loadings.map((_, i) => largest.map((axis) => axes.get(i, axis)));
}
