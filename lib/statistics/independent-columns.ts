/**
 * The places of the columns that no earlier column explains, in order; the rest are aliased.
 *
 * Convention: each column is cleared of the earlier ones twice over (once loses orthogonality, twice does not); one that
 * keeps less than 1e-9 of its length is aliased.
 */
export function independentColumns(columns: readonly Float64Array[]): number[] {
  const basis: Float64Array[] = [];
  const kept: number[] = [];
  for (const [place, given] of columns.entries()) {
    const column = Float64Array.from(given);
    const length = Math.sqrt(dot(column, column));
    for (let pass = 0; pass < 2; pass += 1)
      for (const earlier of basis) {
        const amount = dot(column, earlier);
        for (let row = 0; row < column.length; row += 1) column[row] -= amount * earlier[row];
      }
    const left = Math.sqrt(dot(column, column));
    if (left <= 1e-9 * length) continue;
    for (let row = 0; row < column.length; row += 1) column[row] /= left;
    basis.push(column);
    kept.push(place);
  }
  return kept;
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let row = 0; row < a.length; row += 1) sum += a[row] * b[row];
  return sum;
}
