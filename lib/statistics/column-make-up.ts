import { Matrix, QrDecomposition } from "ml-matrix";

/** For each column that others explain, its place and the weights on the kept ones that make it up. */
export function columnMakeUp(
  columns: readonly Float64Array[],
  kept: readonly number[],
): [number, Float64Array][] {
  const aliased = columns.flatMap((_, place) => (kept.includes(place) ? [] : [place]));
  if (aliased.length === 0) return [];
  if (kept.length === 0) return aliased.map((place) => [place, new Float64Array(0)]);
  const qr = new QrDecomposition(new Matrix(kept.map((place) => Array.from(columns[place]))).transpose());
  return aliased.map((place) => [
    place,
    Float64Array.from(qr.solve(Matrix.columnVector(Array.from(columns[place]))).to1DArray()),
  ]);
}
