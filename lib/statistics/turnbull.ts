import { insist } from "./requirement";

/**
 * When a plant was lost, as far as was seen: after `left` and not after `right`. `right` Infinity: standing when last
 * seen. The two equal: lost at that very time. From 0 on, `left` 0 is *at any time since planting*.
 */
export interface LossWindow {
  left: number;
  right: number;
  /** How many plants share the window. */
  plants: number;
}

/** A stretch of time that holds part of the losses; where within it, the record cannot tell. */
export interface LossMass {
  left: number;
  right: number;
  mass: number;
  /** Share standing after the stretch. Inside it draw a band from the share before to this. */
  shareAfter: number;
}

export interface Turnbull {
  plants: number;
  /** Ascending; some may hold no mass. A last one with `right` Infinity holds those still standing. */
  stretches: LossMass[];
  logLikelihood: number;
  /** How far the fit is from optimal: the largest relative gain that moving mass could still bring. At most 1e-8. */
  violation: number;
}

/**
 * The share of plants standing over time when losses are known only to lie between two looks: Turnbull's
 * non-parametric maximum likelihood.
 *
 * Use it where plots were looked at on different days; with common days it is the life table. It takes plants as
 * independent; no limits are given.
 *
 * @param windows one for each plant or for each group of plants that share it
 * @returns the stretches that can hold losses, with the mass of each
 *
 * Conventions: windows are open on the left and closed on the right (a plant seen standing on a day was not lost that
 * day); maximised by Newton steps with mass kept ≥ 0 until the optimality conditions hold, not until steps get small.
 * Edges: no plants, no stretches. Where the record does not tell masses apart, one of the equally likely answers.
 * Source: turnbull-1976; stretches as in peto-1973; steps as in wang-2007; conditions as in gentleman-geyer-1994.
 * Checked: tests/reference/interval-censored (breast cosmesis data; plain twin by slow EM; conditions at random data).
 * Example: windows (0, 5], (3, 8], (6, ∞) of one plant each → ½ lost in (3, 5], ½ in (6, 8].
 */
export function turnbull(windows: readonly LossWindow[]): Turnbull {
  for (const { left, right, plants } of windows) {
    insist(
      left >= 0 && left <= right && left < Number.POSITIVE_INFINITY,
      "turnbull",
      "0 ≤ left ≤ right",
      `${left} to ${right}`,
    );
    insist(Number.isFinite(plants) && plants >= 0, "turnbull", "plants ≥ 0", plants);
  }
  const held = merged(windows);
  const plants = held.reduce((sum, window) => sum + window.plants, 0);
  if (held.length === 0) return { plants, stretches: [], logLikelihood: 0, violation: 0 };
  const { stretches, covers } = innermost(held);
  const counts = Float64Array.from(held, (window) => window.plants);
  const mass = maximise(covers, counts, plants, stretches.length);
  const chance = chances(covers, mass);
  let shareAfter = 1;
  return {
    plants,
    stretches: stretches.map(([left, right], at) => {
      shareAfter = at === stretches.length - 1 ? 0 : Math.max(0, shareAfter - mass[at]);
      return { left, right, mass: mass[at], shareAfter };
    }),
    logLikelihood: counts.reduce((sum, count, window) => sum + count * Math.log(chance[window]), 0),
    violation: violationOf(slopes(covers, counts, chance, stretches.length), plants, mass),
  };
}

function merged(windows: readonly LossWindow[]): LossWindow[] {
  const seen = new Map<string, LossWindow>();
  for (const { left, right, plants } of windows) {
    if (plants === 0) continue;
    const key = `${left} ${right}`;
    const known = seen.get(key);
    if (known) known.plants += plants;
    else seen.set(key, { left, right, plants });
  }
  return [...seen.values()];
}

/** First and last stretch that each window covers: stretches in order, so a window covers all between. */
type Cover = readonly [first: number, last: number];

/** Stretches run from a window's left end to a right end with no other end between. */
function innermost(windows: readonly LossWindow[]): { stretches: [number, number][]; covers: Cover[] } {
  // At one time: the left end of an exact loss, then right ends (closed), then left ends (open).
  const ends = windows
    .flatMap(({ left, right }) => [
      { at: left, order: left === right ? 0 : 2 },
      { at: right, order: 1 },
    ])
    .sort((a, b) => (a.at === b.at ? a.order - b.order : a.at - b.at));
  const stretches: [number, number][] = [];
  const exact: boolean[] = [];
  for (let place = 1; place < ends.length; place += 1)
    if (ends[place].order === 1 && ends[place - 1].order !== 1) {
      stretches.push([ends[place - 1].at, ends[place].at]);
      exact.push(ends[place - 1].order === 0);
    }
  const covers = windows.map(({ left, right }): Cover => {
    const inside = stretches.flatMap(([from, to], place) => {
      const starts = from > left || (from === left && (left === right || !exact[place]));
      return starts && to <= right ? [place] : [];
    });
    return [inside[0], inside[inside.length - 1]];
  });
  return { stretches, covers };
}

/** Chance of each window under the masses. */
function chances(covers: readonly Cover[], mass: Float64Array): Float64Array {
  return Float64Array.from(covers, ([first, last]) => {
    let sum = 0;
    for (let stretch = first; stretch <= last; stretch += 1) sum += mass[stretch];
    return sum;
  });
}

/** Σ plants/chance over the windows that cover each stretch: at most the number of plants at the optimum. */
function slopes(
  covers: readonly Cover[],
  counts: Float64Array,
  chance: Float64Array,
  size: number,
): Float64Array {
  const slope = new Float64Array(size);
  for (let window = 0; window < covers.length; window += 1) {
    const pull = counts[window] / chance[window];
    for (let stretch = covers[window][0]; stretch <= covers[window][1]; stretch += 1) slope[stretch] += pull;
  }
  return slope;
}

/** No stretch may pull more than its share, and one that holds mass must pull exactly that. */
function violationOf(slope: Float64Array, plants: number, mass: Float64Array): number {
  let worst = 0;
  for (let stretch = 0; stretch < slope.length; stretch += 1) {
    const excess = slope[stretch] / plants - 1;
    worst = Math.max(worst, excess, mass[stretch] > 0 ? -excess * mass[stretch] : 0);
  }
  return worst;
}

/**
 * Maximises Σ plants × log chance with mass ≥ 0 and summing to 1: each step minimises the quadratic that Newton's method
 * sees, subject to mass ≥ 0 (so whole stretches drop out at once), and goes as far along as the likelihood rises.
 */
function maximise(
  covers: readonly Cover[],
  counts: Float64Array,
  plants: number,
  size: number,
): Float64Array {
  let mass: Float64Array = new Float64Array(size).fill(1 / size);
  let chance = chances(covers, mass);
  for (let step = 0; step < 500; step += 1) {
    const slope = slopes(covers, counts, chance, size);
    if (violationOf(slope, plants, mass) <= 1e-12) break;
    const curvature = new Float64Array(size * size);
    for (let window = 0; window < covers.length; window += 1) {
      const [first, last] = covers[window];
      const bend = counts[window] / chance[window] ** 2;
      for (let row = first; row <= last; row += 1)
        for (let column = first; column <= row; column += 1) curvature[row * size + column] += bend;
    }
    for (let row = 0; row < size; row += 1)
      for (let column = 0; column < row; column += 1)
        curvature[column * size + row] = curvature[row * size + column];
    // Adding plants × Σ mass to the objective makes Σ mass = 1 hold at its optimum without being asked for.
    const aim = leastQuadratic(
      curvature,
      slope.map((pull) => 2 * pull - plants),
    );
    const next = climbed(covers, counts, plants, mass, aim);
    if (next === null) break;
    mass = next;
    chance = chances(covers, mass);
  }
  return mass;
}

/**
 * Goes towards `aim` by halves until the likelihood rises, or, where it is too flat to tell, the violation falls. When no
 * step does, takes one of EM, whose likelihood never falls.
 */
function climbed(
  covers: readonly Cover[],
  counts: Float64Array,
  plants: number,
  mass: Float64Array,
  aim: Float64Array,
): Float64Array | null {
  const height = (at: Float64Array) => {
    const chance = chances(covers, at);
    let sum = 0;
    for (let window = 0; window < counts.length; window += 1)
      sum += counts[window] * Math.log(chance[window]);
    return sum;
  };
  const here = height(mass);
  const flat = 1e-12 * Math.abs(here);
  const violation = (at: Float64Array) =>
    violationOf(slopes(covers, counts, chances(covers, at), at.length), plants, at);
  const violated = violation(mass);
  for (let share = 1; share > 1e-6; share /= 2) {
    const tried = mass.map((value, place) => value + share * (aim[place] - value));
    const total = tried.reduce((sum, value) => sum + value, 0);
    if (!(total > 0)) continue;
    for (let place = 0; place < tried.length; place += 1) tried[place] /= total;
    const rise = height(tried) - here;
    if (rise > flat || (rise > -flat && violation(tried) < violated)) return tried;
  }
  const slope = slopes(covers, counts, chances(covers, mass), mass.length);
  const moved = mass.map((value, place) => (value * slope[place]) / plants);
  return violation(moved) < violated ? moved : null;
}

/** The v ≥ 0 that minimises ½v′Hv − b′v: Lawson and Hanson's active set, on the normal equations. */
function leastQuadratic(matrix: Float64Array, target: Float64Array): Float64Array {
  const size = target.length;
  const value = new Float64Array(size);
  const free: number[] = [];
  const refused = new Set<number>();
  const scale = Math.max(...target.map(Math.abs));
  for (let round = 0; round < 10 * size + 10; round += 1) {
    let best = -1;
    let steepest = 1e-13 * scale;
    for (let place = 0; place < size; place += 1) {
      if (free.includes(place) || refused.has(place)) continue;
      let pull = target[place];
      for (const other of free) pull -= matrix[place * size + other] * value[other];
      if (pull > steepest) {
        steepest = pull;
        best = place;
      }
    }
    if (best < 0) return value;
    free.push(best);
    let solved = solveOn(matrix, size, target, free);
    if (solved === null) {
      // The newcomer says nothing that those before it do not.
      free.pop();
      refused.add(best);
      continue;
    }
    while (solved?.some((entry) => entry <= 0)) {
      let step = 1;
      for (const [index, place] of free.entries())
        if (solved[index] <= 0) step = Math.min(step, value[place] / (value[place] - solved[index]));
      for (const [index, place] of free.entries()) value[place] += step * (solved[index] - value[place]);
      for (let index = free.length - 1; index >= 0; index -= 1)
        if (value[free[index]] <= 1e-15) {
          value[free[index]] = 0;
          free.splice(index, 1);
        }
      solved = free.length === 0 ? [] : solveOn(matrix, size, target, free);
    }
    if (solved !== null) for (const [index, place] of free.entries()) value[place] = solved[index];
    if (!free.includes(best)) refused.add(best);
    else refused.clear();
  }
  return value;
}

/** Solves the equations of the free places by Cholesky; null when they are not independent. */
function solveOn(matrix: Float64Array, size: number, target: Float64Array, free: number[]): number[] | null {
  const n = free.length;
  const root = new Float64Array(n * n);
  for (let row = 0; row < n; row += 1)
    for (let column = 0; column <= row; column += 1) {
      let sum = matrix[free[row] * size + free[column]];
      const own = sum;
      for (let k = 0; k < column; k += 1) sum -= root[row * n + k] * root[column * n + k];
      if (row > column) root[row * n + column] = sum / root[column * n + column];
      else if (sum > 1e-11 * own) root[row * n + row] = Math.sqrt(sum);
      else return null;
    }
  const solved = free.map((place) => target[place]);
  for (let row = 0; row < n; row += 1) {
    for (let k = 0; k < row; k += 1) solved[row] -= root[row * n + k] * solved[k];
    solved[row] /= root[row * n + row];
  }
  for (let row = n - 1; row >= 0; row -= 1) {
    for (let k = row + 1; k < n; k += 1) solved[row] -= root[k * n + row] * solved[k];
    solved[row] /= root[row * n + row];
  }
  return solved;
}
