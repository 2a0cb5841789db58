import { EigenvalueDecomposition, Matrix } from "ml-matrix";
import { insist } from "./requirement";

export interface Quadrature {
  nodes: Float64Array;
  weights: Float64Array;
}

/**
 * Points and weights with Σ weight × f(point) = ∫ f(z) φ(z) dz for a standard normal z, exact for polynomials up to
 * degree 2 × points − 1.
 *
 * Convention: eigenvalues of the Jacobi matrix, then a Newton step on each for its last digits.
 * Source: golub-welsch-1969.
 * Checked: tests/unit/statistics/binomial-model.test.ts (moments).
 */
export function gaussHermite(points: number): Quadrature {
  insist(Number.isInteger(points) && points >= 1 && points <= 100, "gaussHermite", "1 to 100 points", points);
  const jacobi = Matrix.zeros(points, points);
  for (let k = 1; k < points; k += 1) {
    jacobi.set(k, k - 1, Math.sqrt(k));
    jacobi.set(k - 1, k, Math.sqrt(k));
  }
  const { realEigenvalues } = new EigenvalueDecomposition(jacobi, { assumeSymmetric: true });
  const nodes = Float64Array.from(realEigenvalues).sort();
  const weights = nodes.map((start, index) => {
    let z = start;
    let last = orthonormal(points, z);
    for (let step = 0; step < 3; step += 1) {
      z -= last.value / (Math.sqrt(points) * last.before);
      last = orthonormal(points, z);
    }
    nodes[index] = z;
    return 1 / (points * last.before ** 2);
  });
  return { nodes, weights };
}

/** Orthonormal Hermite polynomials of the given degree and the one before. */
function orthonormal(degree: number, z: number): { value: number; before: number } {
  let before = 0;
  let value = 1;
  for (let k = 1; k <= degree; k += 1)
    [before, value] = [value, (z * value - Math.sqrt(k - 1) * before) / Math.sqrt(k)];
  return { value, before };
}
