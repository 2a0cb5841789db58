/**
 * Firth's estimate found by search and not by its equations: the penalised log likelihood written out for a grouped
 * logistic model (its information by double sums, its determinant by expansion), climbed one coefficient at a time.
 */
export function plainFirth(
  x: readonly (readonly number[])[],
  hits: readonly number[],
  setOut: readonly number[],
): { coefficients: number[]; height: number } {
  const size = x[0].length;
  const height = (beta: readonly number[]) => {
    const share = x.map(
      (row) => 1 / (1 + Math.exp(-row.reduce((sum, value, k) => sum + value * beta[k], 0))),
    );
    const information = beta.map((_, k) =>
      beta.map((_, l) =>
        x.reduce((s, row, i) => s + setOut[i] * share[i] * (1 - share[i]) * row[k] * row[l], 0),
      ),
    );
    const likelihood = hits.reduce(
      (sum, count, i) =>
        sum +
        (count > 0 ? count * Math.log(share[i]) : 0) +
        (setOut[i] > count ? (setOut[i] - count) * Math.log(1 - share[i]) : 0),
      0,
    );
    return likelihood + Math.log(determinant(information)) / 2;
  };
  const beta = new Array<number>(size).fill(0);
  for (let step = 2; step > 1e-9; step /= 2)
    for (let moved = true; moved; ) {
      moved = false;
      for (let k = 0; k < size; k += 1)
        for (const by of [step, -step]) {
          const tried = beta.map((value, at) => (at === k ? value + by : value));
          if (height(tried) > height(beta) + 1e-15) {
            beta[k] += by;
            moved = true;
          }
        }
    }
  return { coefficients: beta, height: height(beta) };
}

function determinant(matrix: number[][]): number {
  if (matrix.length === 0) return 1;
  return matrix[0].reduce((sum, value, column) => {
    const minor = matrix.slice(1).map((row) => row.filter((_, at) => at !== column));
    return sum + (column % 2 === 0 ? 1 : -1) * value * determinant(minor);
  }, 0);
}
