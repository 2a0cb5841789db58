import { inverse, LuDecomposition, Matrix } from "ml-matrix";

/** A mixed model written out on full matrices: V and its inverse, one entry an observation pair. Slow and obvious. */
export interface PlainModel {
  y: Matrix;
  x: Matrix;
  /** One a random term: 1 where two observations share a level; the identity last. */
  sharing: Matrix[];
}

export function plainModel(y: number[], x: number[][], random: readonly (readonly number[])[]): PlainModel {
  const sharing = random.map(
    (codes) => new Matrix(codes.map((one) => codes.map((other) => (one === other ? 1 : 0)))),
  );
  return { y: Matrix.columnVector(y), x: new Matrix(x), sharing: [...sharing, Matrix.eye(y.length)] };
}

function pieces({ y, x, sharing }: PlainModel, variances: readonly number[]) {
  const v = Matrix.zeros(y.rows, y.rows);
  for (const [term, one] of sharing.entries()) v.add(Matrix.mul(one, variances[term]));
  const vi = inverse(v);
  const information = x.transpose().mmul(vi).mmul(x);
  const phi = inverse(information);
  const p = Matrix.sub(vi, vi.mmul(x).mmul(phi).mmul(x.transpose()).mmul(vi));
  const logs = [v, information].map((one) =>
    new LuDecomposition(one).upperTriangularMatrix
      .diagonal()
      .reduce((sum, d) => sum + Math.log(Math.abs(d)), 0),
  );
  return { v, vi, phi, p, logs };
}

/** −2 log restricted likelihood with its constant. */
export function plainDeviance(model: PlainModel, variances: readonly number[]): number {
  const { p, logs } = pieces(model, variances);
  const { y, x } = model;
  const quadratic = y.transpose().mmul(p).mmul(y).get(0, 0);
  return logs[0] + logs[1] + quadratic + (x.rows - x.columns) * Math.log(2 * Math.PI);
}

/** Nelder and Mead's simplex on the log variances: another road to the same top. */
export function plainMaximum(model: PlainModel, start: readonly number[]): number[] {
  const value = (at: readonly number[]) => plainDeviance(model, at.map(Math.exp));
  let corners = [start.map(Math.log)];
  for (let i = 0; i < start.length; i += 1) corners.push(corners[0].with(i, corners[0][i] + 0.5));
  let simplex = corners.map((at) => ({ at, value: value(at) }));
  for (let step = 0; step < 4000; step += 1) {
    simplex.sort((one, other) => one.value - other.value);
    const worst = simplex[simplex.length - 1];
    const others = simplex.slice(0, -1);
    if (Math.max(...others.map(({ at }) => Math.max(...at.map((a, i) => Math.abs(a - worst.at[i]))))) < 1e-9)
      break;
    const centre = start.map((_, i) => others.reduce((sum, { at }) => sum + at[i], 0) / others.length);
    const along = (by: number) => {
      const at = centre.map((c, i) => c + by * (worst.at[i] - c));
      return { at, value: value(at) };
    };
    const reflected = along(-1);
    if (reflected.value < simplex[0].value) {
      const further = along(-2);
      simplex = [...others, further.value < reflected.value ? further : reflected];
    } else if (reflected.value < others[others.length - 1].value) simplex = [...others, reflected];
    else {
      const nearer = along(reflected.value < worst.value ? -0.5 : 0.5);
      if (nearer.value < Math.min(worst.value, reflected.value)) simplex = [...others, nearer];
      else {
        corners = simplex.map(({ at }) => at.map((a, i) => (a + simplex[0].at[i]) / 2));
        simplex = corners.map((at) => ({ at, value: value(at) }));
      }
    }
  }
  return simplex[0].at.map(Math.exp);
}

/** Kenward and Roger's test as their paper states it, every derivative of V written out. */
export function plainKenwardRoger(model: PlainModel, variances: readonly number[], contrasts: number[][]) {
  const { x, y, sharing } = model;
  const { vi, phi } = pieces(model, variances);
  const l = new Matrix(contrasts).transpose();
  const xt = x.transpose();
  const size = variances.length;
  const slope = sharing.map((g) => xt.mmul(vi).mmul(g).mmul(vi).mmul(x).mul(-1));
  const curve = sharing.map((g) => sharing.map((h) => xt.mmul(vi).mmul(g).mmul(vi).mmul(h).mmul(vi).mmul(x)));
  const information = new Matrix(
    sharing.map((g, i) =>
      sharing.map((h, j) => {
        const first = vi.mmul(g).mmul(vi).mmul(h).trace();
        const second = phi.mmul(curve[i][j]).trace();
        const third = phi.mmul(slope[i]).mmul(phi).mmul(slope[j]).trace();
        return (first - 2 * second + third) / 2;
      }),
    ),
  );
  const w = inverse(information);
  const theta = l.mmul(inverse(l.transpose().mmul(phi).mmul(l))).mmul(l.transpose());
  const lambda = Matrix.zeros(phi.rows, phi.rows);
  let [a1, a2] = [0, 0];
  for (let i = 0; i < size; i += 1)
    for (let j = 0; j < size; j += 1) {
      lambda.add(Matrix.sub(curve[i][j], slope[i].mmul(phi).mmul(slope[j])).mul(w.get(i, j)));
      const [one, other] = [slope[i], slope[j]].map((s) => theta.mmul(phi).mmul(s).mmul(phi));
      a1 += w.get(i, j) * one.trace() * other.trace();
      a2 += w.get(i, j) * one.mmul(other).trace();
    }
  const adjusted = Matrix.add(phi, phi.mmul(lambda).mmul(phi).mul(2));
  const beta = phi.mmul(xt).mmul(vi).mmul(y);
  const count = l.columns;
  const along = l.transpose().mmul(beta);
  const f =
    along
      .transpose()
      .mmul(inverse(l.transpose().mmul(adjusted).mmul(l)))
      .mmul(along)
      .get(0, 0) / count;
  const b = (a1 + 6 * a2) / (2 * count);
  const g = ((count + 1) * a1 - (count + 4) * a2) / ((count + 2) * a2);
  const under = 3 * count + 2 * (1 - g);
  const mean = 1 / (1 - a2 / count);
  const spread =
    ((2 / count) * (1 + (g / under) * b)) /
    ((1 - ((count - g) / under) * b) ** 2 * (1 - ((count + 2 - g) / under) * b));
  const rho = spread / (2 * mean * mean);
  const df = 4 + (count + 2) / (count * rho - 1);
  return { adjusted, beta, f: (f * df) / (mean * (df - 2)), df };
}
