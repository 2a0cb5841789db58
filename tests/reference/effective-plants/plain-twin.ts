import { Matrix, SVD } from "ml-matrix";
import { normalCdf, normalQuantile } from "@/lib/statistics/normal";
import type { Layout, PlotCount } from "@/lib/statistics/plot-count";

/**
 * The effective-plant interval once more, slow and written differently: hat matrix by pseudo-inverse, the clumping on
 * 400 points of the ICC's own scale by its Beta(½, 3/2) density, k and Wilson's limits by halving.
 */
export function plainEffectivePlants(plots: PlotCount[], layout: Layout, level: number, comparisons: number) {
  const names = [...new Set(plots.map((plot) => plot.variety))];
  const dummies = (key: (plot: PlotCount) => unknown) =>
    [...new Set(plots.map(key))].map((value) => plots.map((plot) => (key(plot) === value ? 1 : 0)));
  const columns = dummies((plot) => plot.variety);
  if (layout === "rcbd") columns.push(...dummies((plot) => plot.block));
  if (layout === "latin") columns.push(...dummies((plot) => plot.row), ...dummies((plot) => plot.column));
  const design = new Matrix(columns).transpose();
  const weights = Matrix.diag(plots.map((plot) => plot.setOut));
  const shares = Matrix.columnVector(plots.map((plot) => plot.standing / plot.setOut));
  const scaled = Matrix.diag(plots.map((plot) => Math.sqrt(plot.setOut))).mmul(design);
  const rank = new SVD(scaled, { autoTranspose: true }).rank;
  const inverse = new SVD(design.transpose().mmul(weights).mmul(design)).inverse();
  const hat = design.mmul(inverse).mmul(design.transpose()).mmul(weights);
  const residual = Matrix.sub(shares, hat.mmul(shares));
  const df = plots.length - rank;
  const total = (own: PlotCount[], value: (plot: PlotCount) => number) =>
    own.reduce((sum, plot) => sum + value(plot), 0);
  const groups = names.map((name) => {
    const own = plots.filter((plot) => plot.variety === name);
    const setOut = total(own, (plot) => plot.setOut);
    const standing = total(own, (plot) => plot.standing);
    const share = (standing + 0.5) / (setOut + 1);
    return { setOut, standing, m: total(own, (plot) => plot.setOut ** 2) / setOut, u: share * (1 - share) };
  });
  const sumU = groups.reduce((sum, group) => sum + group.u, 0);
  const sumU2 = groups.reduce((sum, group) => sum + group.u ** 2, 0);
  const scatter = plots.reduce((sum, plot, index) => sum + plot.setOut * residual.get(index, 0) ** 2, 0);
  const free = plots.reduce((sum, plot, index) => sum + plot.setOut * (1 - hat.get(index, index)), 0);
  const chiSquare = (sumU * scatter * groups.length) / (groups.length * sumU2);
  const effectiveDf = (df * sumU ** 2) / (groups.length * sumU2);

  // Midpoints of equal chances in θ would be the method's own grid: here θ is cut ten times finer.
  const points = Array.from({ length: 400 }, (_, index) => Math.sin(((index + 0.5) * Math.PI) / 800) ** 2);
  const density = points.map((rho) => {
    const designEffect = 1 + ((df > 0 ? free / df : 1) - 1) * rho;
    return df > 0
      ? (1 - rho) * Math.exp(-0.5 * effectiveDf * Math.log(designEffect) - chiSquare / 2 / designEffect)
      : 1 - rho;
  });
  const mass = density.reduce((sum, value) => sum + value, 0);
  const halve = (low: number, high: number, above: (x: number) => boolean) => {
    let [a, b] = [low, high];
    for (let step = 0; step < 70; step += 1) {
      const middle = (a + b) / 2;
      if (above(middle)) b = middle;
      else a = middle;
    }
    return (a + b) / 2;
  };
  const tail = (1 - level) / comparisons / 2;
  const z = -normalQuantile(tail);
  return groups.map(({ setOut, standing, m }) => {
    const beyond = (k: number) =>
      points.reduce(
        (sum, rho, index) => sum + density[index] * normalCdf(-k / Math.sqrt(1 + (m - 1) * rho)),
        0,
      ) / mass;
    const k = halve(0, 1000, (at) => beyond(at) < tail);
    const effectivePlants = setOut * (z / k) ** 2;
    const share = standing / setOut;
    const refused = (p: number) => effectivePlants * (p - share) ** 2 > z * z * p * (1 - p);
    return {
      effectivePlants,
      low: standing === 0 ? 0 : halve(0, share, (p) => !refused(p)),
      high: standing === setOut ? 1 : halve(share, 1, refused),
    };
  });
}
