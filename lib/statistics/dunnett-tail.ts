import { chiSquareUpper } from "./chi-square";
import { factorLoadings } from "./factor-loadings";
import { gaussHermite } from "./gauss-hermite";
import { logGamma } from "./log-gamma";
import { normalCdf, normalDensity } from "./normal";
import type { RandomStream } from "./random-stream";
import { insist } from "./requirement";
import { type StudentisedTail, studentisedTail } from "./studentised-tail";

export interface DunnettTail extends StudentisedTail {
  /** True where few shared factors make up the correlations, and the tail is integrated over them. */
  exact: boolean;
}

/**
 * Distribution of the largest |t| among contrasts with known correlations and one error estimate: Dunnett's, for any
 * numbers of plots.
 *
 * @param correlations symmetric, 1 on the diagonal
 * @param random drawn from only where the correlations have no product form
 *
 * Conventions: correlations of product form λ_i λ_j (any numbers of plots without blocks; complete blocks) are integrated
 * over the factor that the contrasts share, to about 1e-11. Blocks with missing plots share a few factors more, at most
 * one for each such block: up to four are integrated together, to about 1e-8. Otherwise the nearest product form is
 * integrated, and the small difference to it is averaged over a randomly shifted lattice, the error estimate integrated
 * exactly at each point. Points are doubled until three standard errors are below 1e-4 of p (1e-5 where p < 0.1).
 * Source: dunnett-1955; hsu-1996; lattice after genz-bretz-2009, chapter 4.
 * Checked: tests/reference/dunnett (double integration in R to 1e-11; multcomp).
 */
export function dunnettTail(correlations: readonly (readonly number[])[], random: RandomStream): DunnettTail {
  for (const row of correlations)
    for (const value of row)
      insist(Math.abs(value) <= 1 + 1e-9, "dunnettTail", "correlations between −1 and 1", value);
  const loadings = nearestLoadings(correlations);
  const isExact = isProduct(correlations, loadings);
  const several = isExact ? null : factorLoadings(correlations, 4, 1e-7);
  const groups = groupedContrasts(several ?? loadings.map((loading) => [loading]));
  const product = keptProduct(groups, several === null ? 16 : 11);
  if (isExact || several !== null) return { ...product, exact: true };
  const lattice = shiftedLattice(correlations, loadings, random);
  const upper = (q: number, df: number) => {
    insist(df > 0 && !Number.isNaN(q), "dunnettTail", "df > 0 and a number q", `q ${q}, df ${df}`);
    if (q <= 0) return 1;
    const near = product.upper(q, df);
    return Math.min(1, Math.max(0, near + lattice.correction(q, df, near)));
  };
  const quantile = (p: number, df: number) => {
    const start = product.quantile(p, df);
    let [low, high] = [start * 0.9, start * 1.1];
    while (upper(low, df) < p) low /= 1.5;
    while (upper(high, df) > p) high *= 1.5;
    return bySecants((q) => Math.log(upper(q, df) / p), low, high);
  };
  return { upper, quantile, exact: false };
}

/** Product forms laid down so far, by their contrasts: every figure of one layout has the same. */
const products = new Map<string, StudentisedTail>();
const mostProducts = 40;

function keptProduct(groups: readonly ContrastGroup[], nodes: number): StudentisedTail {
  const key = JSON.stringify([nodes, groups]);
  const known = products.get(key);
  if (known) return known;
  const axes = sharedAxes(groups);
  const made = studentisedTail((u) => sharedUpper(u, groups, axes), nodes);
  products.set(key, made);
  if (products.size > mostProducts) products.delete(products.keys().next().value as string);
  return made;
}

/** Contrasts with the same loadings on the shared factors: Z_i = Σ λ_if X_f + own × Y_i. */
interface ContrastGroup {
  loadings: readonly number[];
  own: number;
  count: number;
}

/** Contrasts that share their loadings can be raised to a power together. */
function groupedContrasts(loadings: readonly (readonly number[])[]): ContrastGroup[] {
  // More than one factor is found by steps; what came out alike within their last digits is alike.
  const digits = loadings[0].length === 1 ? 1e13 : 1e7;
  const groups = new Map<string, ContrastGroup>();
  for (const row of loadings) {
    const key = row.map((loading) => Math.round(loading * digits)).join(" ");
    const square = row.reduce((sum, loading) => sum + loading * loading, 0);
    const group = groups.get(key) ?? { loadings: row, own: Math.sqrt(Math.max(0, 1 - square)), count: 0 };
    group.count += 1;
    groups.set(key, group);
  }
  return [...groups.values()];
}

/** Points over all factors but the first, which carries most: where each group's middle lies, and the weight. */
interface SharedPoint {
  middles: number[];
  weight: number;
}

function sharedAxes(groups: readonly ContrastGroup[]): SharedPoint[] {
  let points: SharedPoint[] = [{ middles: groups.map(() => 0), weight: 1 }];
  for (let axis = 1; axis < groups[0].loadings.length; axis += 1) {
    const steepest = Math.max(...groups.map(({ loadings, own }) => Math.abs(loadings[axis]) / own));
    const { nodes, weights } = gaussHermite(hermitePoints(steepest));
    const size = nodes.length;
    points = points.flatMap(({ middles, weight }) =>
      Array.from({ length: size }, (_, at) => ({
        middles: middles.map((middle, group) => middle + groups[group].loadings[axis] * nodes[at]),
        weight: weight * weights[at],
      })),
    );
  }
  return points;
}

/** The flatter the contrasts' own limits lie along a factor, the fewer points tell its part. */
function hermitePoints(steepest: number): number {
  if (steepest < 0.06) return 3;
  if (steepest < 0.15) return 5;
  if (steepest < 0.3) return 8;
  if (steepest < 0.6) return 14;
  return 24;
}

/** P(max |Z_i| > u): by equal steps along the first factor, which are as good as exact for smooth bells. */
function sharedUpper(u: number, groups: readonly ContrastGroup[], points: readonly SharedPoint[]): number {
  if (u === 0) return 1;
  const lead = groups.map(({ loadings }) => loadings[0]);
  const reach = Math.min(38, 9 + u * Math.max(...lead.map(Math.abs)));
  const narrowest = Math.min(...groups.map(({ own }, group) => own / Math.max(Math.abs(lead[group]), 0.1)));
  const step = Math.min(1, Math.max(0.002, narrowest)) * (points.length === 1 ? 0.25 : 0.4);
  let sum = 0;
  // Both signs of all factors at once give the same: half of the line will do, its middle counted half.
  for (let at = 0; at * step <= reach; at += 1) {
    const x = at * step;
    let outside = 0;
    for (const { middles, weight } of points) {
      let logInside = 0;
      for (let group = 0; group < groups.length; group += 1) {
        const { own, count } = groups[group];
        const beyond = outsideOf(u, middles[group] + lead[group] * x, own);
        logInside += count * Math.log1p(-Math.min(1, beyond));
      }
      outside -= weight * Math.expm1(logInside);
    }
    sum += (at === 0 ? 0.5 : 1) * normalDensity(x) * outside;
  }
  return Math.min(1, 2 * sum * step);
}

/** P(|middle + own Y| > u); the farther side is left out where it is nothing beside the nearer. */
function outsideOf(u: number, middle: number, own: number): number {
  const near = (u - Math.abs(middle)) / own;
  const far = (u + Math.abs(middle)) / own;
  return far > 8 && far - near > 6 ? normalCdf(-near) : normalCdf(-near) + normalCdf(-far);
}

/** The λ whose products come nearest to the correlations: exact where there are such λ. */
function nearestLoadings(correlations: readonly (readonly number[])[]): number[] {
  const count = correlations.length;
  if (count === 1) return [0];
  const most = 0.999_999;
  if (count === 2) {
    const r = correlations[0][1];
    const loading = Math.sqrt(Math.min(most, Math.abs(r)));
    return [loading, Math.sign(r) * loading];
  }
  const loadings = correlations.map((row, i) => {
    let square = 0;
    let largest = 0;
    for (let j = 0; j < count; j += 1)
      for (let k = 0; k < j; k += 1) {
        if (j === i || k === i || Math.abs(correlations[j][k]) <= largest) continue;
        largest = Math.abs(correlations[j][k]);
        square = (row[j] * row[k]) / correlations[j][k];
      }
    return Math.sqrt(Math.min(most, Math.max(0, square)));
  });
  const lead = loadings.indexOf(Math.max(...loadings));
  for (let i = 0; i < count; i += 1) if (i !== lead && correlations[i][lead] < 0) loadings[i] = -loadings[i];
  if (isProduct(correlations, loadings)) return loadings;
  // Least squares over the off-diagonal elements, one loading at a time.
  for (let sweep = 0; sweep < 200; sweep += 1)
    for (let i = 0; i < count; i += 1) {
      let [cross, squares] = [0, 0];
      for (let j = 0; j < count; j += 1)
        if (j !== i) {
          cross += correlations[i][j] * loadings[j];
          squares += loadings[j] ** 2;
        }
      if (squares > 0) loadings[i] = Math.min(0.99, Math.max(-0.99, cross / squares));
    }
  // Rounded, so that contrasts alike are integrated together: any product form near enough will do here.
  return loadings.map((loading) => Math.round(loading * 1e6) / 1e6);
}

function isProduct(correlations: readonly (readonly number[])[], loadings: readonly number[]): boolean {
  return correlations.every((row, i) =>
    row.every((value, j) => i === j || Math.abs(value - loadings[i] * loadings[j]) <= 1e-10),
  );
}

/** The largest |Z| under the correlations given and under the product form, from the same points. */
function shiftedLattice(
  correlations: readonly (readonly number[])[],
  loadings: readonly number[],
  random: RandomStream,
) {
  const count = correlations.length;
  // Both are built from one set of normals by their own triangular roots, so that most of the error cancels.
  const root = triangularRoot(correlations);
  const nearest = triangularRoot(
    loadings.map((one, i) => loadings.map((other, j) => (i === j ? 1 : one * other))),
  );
  const steps = rootsOfPrimes(count + (count % 2));
  const shifts = Array.from({ length: 8 }, () => steps.map(() => random.uniform()));
  const given: number[][] = shifts.map(() => []);
  const product: number[][] = shifts.map(() => []);
  const normals = new Float64Array(steps.length);
  let points = 0;
  const extend = (to: number) => {
    for (; points < to; points += 1)
      for (const [index, shift] of shifts.entries()) {
        const place = (axis: number) => ((points + 1) * steps[axis] + shift[axis]) % 1;
        // Two normals from two coordinates (Box and Muller): the angle is periodic as it is, the radius is folded.
        for (let pair = 0; pair < steps.length; pair += 2) {
          const radius = Math.sqrt(-2 * Math.log(Math.max(1e-300, Math.abs(2 * place(pair) - 1))));
          const angle = 2 * Math.PI * place(pair + 1);
          normals[pair] = radius * Math.cos(angle);
          normals[pair + 1] = radius * Math.sin(angle);
        }
        given[index].push(largest(root, normals));
        product[index].push(largest(nearest, normals));
      }
  };
  const correction = (q: number, df: number, exact: number): number => {
    const beyond = scaleBelow(q, df);
    for (let to = Math.max(points, 1000); ; to *= 2) {
      extend(to);
      const means = shifts.map((_, index) => {
        let sum = 0;
        for (let point = 0; point < points; point += 1)
          sum += beyond(given[index][point]) - beyond(product[index][point]);
        return sum / points;
      });
      const mean = means.reduce((sum, one) => sum + one, 0) / means.length;
      const spread = means.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (means.length - 1);
      if (3 * Math.sqrt(spread / means.length) < 1e-4 * Math.max(0.1, exact) || to >= 64_000) return mean;
    }
  };
  return { correction };
}

/** P(q s < m) as a function of m, laid down once: cubic between points a twentieth of its width apart. */
function scaleBelow(q: number, df: number): (most: number) => number {
  if (df === Number.POSITIVE_INFINITY) return (most) => (most > q ? 1 : 0);
  const top = q * (1 + 12 / Math.sqrt(df));
  const count = Math.ceil(Math.min(20_000, (top / q) * 20 * Math.sqrt(2 * df)));
  const step = top / count;
  const logTop = Math.LN2 + (df / 2) * Math.log(df / 2) - logGamma(df / 2);
  const below = new Float64Array(count + 1);
  const slope = new Float64Array(count + 1);
  for (let i = 1; i <= count; i += 1) {
    const s = (i * step) / q;
    below[i] = 1 - chiSquareUpper(df * s * s, df);
    slope[i] = (Math.exp(logTop + (df - 1) * Math.log(s) - (df * s * s) / 2) * step) / q;
  }
  // One degree of freedom starts with a slope of its own; more start flat.
  slope[0] = df > 1 ? 0 : slope[1];
  return (most) => {
    const place = most / step;
    const i = Math.floor(place);
    if (i >= count) return 1;
    const x = place - i;
    const rise = below[i + 1] - below[i];
    return (
      below[i] +
      x * (slope[i] + x * (3 * rise - 2 * slope[i] - slope[i + 1] + x * (slope[i] + slope[i + 1] - 2 * rise)))
    );
  };
}

function largest(root: readonly Float64Array[], normals: Float64Array): number {
  let most = 0;
  for (let i = 0; i < root.length; i += 1) {
    let sum = 0;
    for (let j = 0; j <= i; j += 1) sum += root[i][j] * normals[j];
    most = Math.max(most, Math.abs(sum));
  }
  return most;
}

/** Cholesky's root; contrasts that are sums of others (singular correlations) get a row of their own all the same. */
function triangularRoot(matrix: readonly (readonly number[])[]): Float64Array[] {
  const root = matrix.map((row) => new Float64Array(row.length));
  for (let i = 0; i < root.length; i += 1)
    for (let j = 0; j <= i; j += 1) {
      let left = matrix[i][j];
      for (let k = 0; k < j; k += 1) left -= root[i][k] * root[j][k];
      if (i === j) root[i][i] = left > 1e-12 ? Math.sqrt(left) : 0;
      else root[i][j] = root[j][j] === 0 ? 0 : left / root[j][j];
    }
  return root;
}

/** Fractional parts of √2, √3, √5 …: Richtmyer's generator. */
function rootsOfPrimes(count: number): number[] {
  const primes: number[] = [];
  for (let next = 2; primes.length < count; next += 1)
    if (primes.every((prime) => next % prime !== 0)) primes.push(next);
  return primes.map((prime) => Math.sqrt(prime) % 1);
}

/** A root of a smooth function known to lie between, to 1e-9, in few evaluations. */
function bySecants(value: (at: number) => number, from: number, to: number): number {
  let [a, b] = [from, to];
  let [atA, atB] = [value(a), value(b)];
  for (let step = 0; step < 60 && Math.abs(b - a) > 1e-9 * b; step += 1) {
    let next = b - (atB * (b - a)) / (atB - atA);
    if (!(next > Math.min(a, b) && next < Math.max(a, b))) next = (a + b) / 2;
    const atNext = value(next);
    if (atNext === 0 || Math.abs(next - b) < 1e-9 * next) return next;
    // Keep a bracket; halve the older end's weight so that it moves in (Illinois).
    if (atNext > 0 === atB > 0) atA /= 2;
    else [a, atA] = [b, atB];
    [b, atB] = [next, atNext];
  }
  return b;
}
