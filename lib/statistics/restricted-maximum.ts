import { CholeskyDecomposition, Matrix } from "ml-matrix";
import { type CrossProducts, type LikelihoodAt, likelihoodAt, profiledDeviance } from "./reml-likelihood";

/** A ratio at this height means that the residual variance is all but nothing beside it. */
const highest = 1e7;

/**
 * The ratios of the random terms' variances to the residual's at which the restricted likelihood is greatest.
 *
 * Conventions: the best of a coarse grid, one ratio at a time, and again away from every zero found; then Newton steps on the variances (expected information
 * where the observed one is not positive definite), halved until the likelihood does not fall, a variance that steps
 * below zero set to zero and released only where the slope there is upward. Ends when the step is below 1e-10 of the
 * ratios.
 * Edges: ratios stop at 1e7.
 * Source: gilmour-1995 for the steps.
 * Checked: tests/reference/mixed-model (R lme4; slope at the optimum; a plain twin with another optimiser).
 */
export function restrictedMaximum(products: CrossProducts): number[] {
  let best = climb(products, fromGrid(products));
  // Where a ratio ends at zero the likelihood may have a second top away from it.
  for (const [term, ratio] of best.ratios.entries()) {
    if (ratio > 0) continue;
    const other = climb(products, best.ratios.with(term, 1));
    if (other.deviance < best.deviance - 1e-9) best = other;
  }
  return best.ratios;
}

function climb(products: CrossProducts, start: number[]): { ratios: number[]; deviance: number } {
  let ratios = start;
  let { deviance } = profiledDeviance(products, ratios);
  if (ratios.length === 0) return { ratios, deviance };
  for (let step = 0; step < 100; step += 1) {
    const at = likelihoodAt(products, ratios);
    const move = newtonStep(at);
    let next = ratios;
    let taken = false;
    for (let share = 1; share > 1e-9; share /= 2) {
      next = ratiosAfter(at, move, share);
      const reached = profiledDeviance(products, next).deviance;
      if (reached <= deviance + 1e-11 * (1 + Math.abs(deviance))) {
        deviance = Math.min(deviance, reached);
        taken = true;
        break;
      }
    }
    if (!taken) break;
    const change = Math.max(...next.map((ratio, term) => Math.abs(ratio - ratios[term]) / (1e-6 + ratio)));
    ratios = next;
    if (change < 1e-10) break;
  }
  return { ratios, deviance };
}

function fromGrid(products: CrossProducts): number[] {
  const terms = products.starts.length - 1;
  let ratios: number[] = new Array(terms).fill(0.3);
  let best = Number.POSITIVE_INFINITY;
  for (let sweep = 0; sweep < Math.min(2, terms); sweep += 1)
    for (let term = 0; term < terms; term += 1)
      for (const ratio of [0, 0.03, 0.3, 1.5, 10, 100]) {
        const tried = ratios.with(term, ratio);
        const { deviance } = profiledDeviance(products, tried);
        if (deviance < best) {
          best = deviance;
          ratios = tried;
        }
      }
  return ratios;
}

/** Step of every variance, the residual's last; 0 for those held at zero. */
function newtonStep(at: LikelihoodAt): number[] {
  const { variances, gradient, average, expected } = at;
  const last = variances.length - 1;
  const free = variances.flatMap((variance, term) =>
    variance > 0 || gradient[term] > 0 || term === last ? [term] : [],
  );
  // On the scale of each variance's own information, so that none swamps another.
  const scale = free.map((term) => 1 / Math.sqrt(expected.get(term, term)));
  const scaled = (value: (one: number, other: number) => number) =>
    new Matrix(free.map((one, i) => free.map((other, j) => value(one, other) * (scale[i] * scale[j]))));
  const slope = Matrix.columnVector(free.map((term, i) => gradient[term] * scale[i]));
  const observed = new CholeskyDecomposition(
    scaled((one, other) => average.get(one, other) - expected.get(one, other) / 2),
  );
  const sound =
    observed.isPositiveDefinite() && observed.lowerTriangularMatrix.diagonal().every((pivot) => pivot > 1e-3);
  const information = sound
    ? observed
    : new CholeskyDecomposition(
        scaled((one, other) => (expected.get(one, other) / 2) * (one === other ? 1 + 1e-9 : 1)),
      );
  const solved = information.solve(slope);
  const move: number[] = new Array(variances.length).fill(0);
  for (const [i, term] of free.entries()) move[term] = solved.get(i, 0) * scale[i];
  return move;
}

function ratiosAfter({ variances }: LikelihoodAt, move: readonly number[], share: number): number[] {
  const last = variances.length - 1;
  const residual = Math.max(variances[last] / 10, variances[last] + share * move[last]);
  return variances
    .slice(0, last)
    .map((variance, term) => Math.min(highest, Math.max(0, variance + share * move[term]) / residual));
}
