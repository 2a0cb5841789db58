import { inverse, Matrix } from "ml-matrix";
import { chiSquareUpper } from "./chi-square";
import { type BlockEvents, type GroupedLifetimes, groupedEvents } from "./grouped-events";
import type { Estimate } from "./interval";
import { normalCdf, normalQuantile } from "./normal";
import { insist } from "./requirement";

/** Groups whose hazards can be compared with one another by finite ratios. */
interface Comparable {
  groups: number[];
  /** Log hazard of each against the first. */
  logHazard: number[];
  covariance: number[][];
}

export interface CoxFit {
  comparable: Comparable[];
  logLikelihood: { alike: number; fitted: number };
  /** Whether the groups differ at all; null when no two groups were watched as losses came. */
  likelihoodRatio: { chiSquare: number; df: number; p: number } | null;
}

/**
 * Ratios of the groups' hazards of loss by Cox's proportional hazards, with Efron's handling of ties.
 *
 * **It takes plants as independent: for the working only.** It also takes the ratio of two varieties' hazards as the
 * same all winter, which a single hard night does not respect.
 *
 * @param lifetimes any cause counts as lost; `blocks` lets each block have its own course of losses
 * @param groups how many groups there are
 * @returns log hazards; hand to `coxRatio` for one ratio with limits
 *
 * Conventions: Newton–Raphson on Efron's partial likelihood; deaths before censoring at one time.
 * Edges: a group that lost none, or was gone before others lost any, has an endless ratio to them; such groups are set
 * apart (ratios are finite exactly among groups each of which, by a chain, lost a plant while the other was watched), and
 * the ratios among the rest are those of the limit.
 * Source: cox-1972; efron-1977; finiteness as in ford-1957.
 * Checked: tests/reference/log-rank (R coxph, ties = "efron"); by hand in tests/unit/statistics/cox-ratios.test.ts.
 * Example: Gehan's leukaemia data → log hazard ratio 1.572, standard error 0.412.
 */
export function coxRatios(lifetimes: GroupedLifetimes, groups: number): CoxFit {
  const events = groupedEvents("coxRatios", lifetimes, groups);
  const comparable = comparableGroups(events, groups).map((members) => fitted(events, groups, members));
  const all = Array.from({ length: groups }, (_, group) => group);
  const alike = partialLikelihood(events, groups, all, new Float64Array(groups)).logLikelihood;
  const logLikelihood = comparable.reduce(
    (sum, { groups: members, logHazard }) =>
      sum + partialLikelihood(events, groups, members, Float64Array.from(logHazard)).logLikelihood,
    0,
  );
  const df = all.filter((group) => watchedAtLoss(events, groups, group)).length - 1;
  const chiSquare = Math.max(0, 2 * (logLikelihood - alike));
  return {
    comparable: comparable.map(({ groups: members, logHazard, covariance }) => ({
      groups: members,
      logHazard,
      covariance,
    })),
    logLikelihood: { alike, fitted: logLikelihood },
    likelihoodRatio: df < 1 ? null : { chiSquare, df, p: chiSquareUpper(chiSquare, df) },
  };
}

/** Log hazard ratio a to b with normal limits; null where it is endless or the two never met. */
export function coxRatio(
  fit: CoxFit,
  a: number,
  b: number,
  level: number,
): (Estimate & { se: number; p: number }) | null {
  insist(level > 0 && level < 1, "coxRatio", "0 < level < 1", level);
  const home = fit.comparable.find(({ groups }) => groups.includes(a) && groups.includes(b));
  if (!home || a === b) return null;
  const [i, j] = [home.groups.indexOf(a), home.groups.indexOf(b)];
  const estimate = home.logHazard[i] - home.logHazard[j];
  const { covariance } = home;
  const se = Math.sqrt(covariance[i][i] + covariance[j][j] - 2 * covariance[i][j]);
  const half = -normalQuantile((1 - level) / 2) * se;
  return {
    estimate,
    se,
    low: estimate - half,
    high: estimate + half,
    p: 2 * normalCdf(-Math.abs(estimate / se)),
  };
}

/** Visits every block and time at which plants were lost, with plants at risk and lost by group. */
function eachLoss(
  events: readonly BlockEvents[],
  groups: number,
  visit: (atRisk: Float64Array, lost: Float64Array) => void,
): void {
  for (const { lost, gone, watched } of events) {
    const atRisk = watched.slice();
    for (let cell = 0; cell < lost.length; cell += groups) {
      const here = lost.subarray(cell, cell + groups);
      if (here.some((count) => count > 0)) visit(atRisk, here);
      for (let group = 0; group < groups; group += 1) atRisk[group] -= gone[cell + group];
    }
  }
}

function watchedAtLoss(events: readonly BlockEvents[], groups: number, group: number): boolean {
  let watched = false;
  eachLoss(events, groups, (atRisk) => {
    if (atRisk[group] > 0) watched = true;
  });
  return watched;
}

/** Sets of groups that beat one another: g beats h when it loses a plant while h is watched, or by a chain of such. */
function comparableGroups(events: readonly BlockEvents[], groups: number): number[][] {
  const beats = new Uint8Array(groups * groups);
  eachLoss(events, groups, (atRisk, lost) => {
    for (let g = 0; g < groups; g += 1)
      if (lost[g] > 0) for (let h = 0; h < groups; h += 1) if (atRisk[h] > 0) beats[g * groups + h] = 1;
  });
  for (let via = 0; via < groups; via += 1)
    for (let g = 0; g < groups; g += 1)
      if (beats[g * groups + via])
        for (let h = 0; h < groups; h += 1) if (beats[via * groups + h]) beats[g * groups + h] = 1;
  const sets: number[][] = [];
  for (let g = 0; g < groups; g += 1) {
    const home = sets.find(([first]) => beats[g * groups + first] && beats[first * groups + g]);
    if (home) home.push(g);
    else sets.push([g]);
  }
  return sets;
}

interface Point {
  logLikelihood: number;
  slope: Float64Array;
  information: Float64Array;
}

/** Efron's log partial likelihood among the members only, with its derivatives. */
function partialLikelihood(
  events: readonly BlockEvents[],
  groups: number,
  members: readonly number[],
  logHazard: Float64Array,
): Point {
  const size = members.length;
  const hazard = logHazard.map(Math.exp);
  const slope = new Float64Array(size);
  const information = new Float64Array(size * size);
  const share = new Float64Array(size);
  let logLikelihood = 0;
  eachLoss(events, groups, (atRisk, lost) => {
    let tied = 0;
    for (let k = 0; k < size; k += 1) {
      const own = lost[members[k]];
      tied += own;
      logLikelihood += own * logHazard[k];
      slope[k] += own;
    }
    for (let death = 0; death < tied; death += 1) {
      let total = 0;
      for (let k = 0; k < size; k += 1) {
        share[k] = (atRisk[members[k]] - (death / tied) * lost[members[k]]) * hazard[k];
        total += share[k];
      }
      logLikelihood -= Math.log(total);
      for (let k = 0; k < size; k += 1) {
        share[k] /= total;
        slope[k] -= share[k];
        information[k * size + k] += share[k];
        for (let l = 0; l <= k; l += 1) information[k * size + l] -= share[k] * share[l];
      }
    }
  });
  for (let k = 0; k < size; k += 1)
    for (let l = 0; l < k; l += 1) information[l * size + k] = information[k * size + l];
  return { logLikelihood, slope, information };
}

function fitted(events: readonly BlockEvents[], groups: number, members: number[]): Comparable {
  const size = members.length;
  const logHazard = new Float64Array(size);
  const others = Array.from({ length: size - 1 }, (_, k) => k + 1);
  let here = partialLikelihood(events, groups, members, logHazard);
  const inverted = () =>
    inverse(Matrix.from1DArray(size, size, Array.from(here.information)).selection(others, others));
  for (let step = 0; size > 1 && step < 100; step += 1) {
    const move = inverted()
      .mmul(Matrix.columnVector(others.map((k) => here.slope[k])))
      .to1DArray();
    const from = Float64Array.from(logHazard);
    let next = here;
    for (let length = 1; length > 1e-6; length /= 2) {
      for (const [index, k] of others.entries()) logHazard[k] = from[k] + length * move[index];
      next = partialLikelihood(events, groups, members, logHazard);
      if (next.logLikelihood >= here.logLikelihood - 1e-12 * Math.abs(here.logLikelihood)) break;
    }
    here = next;
    if (move.every((by) => Math.abs(by) < 1e-11)) break;
  }
  const covariance = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  if (size > 1) {
    const matrix = inverted();
    for (const k of others) for (const l of others) covariance[k][l] = matrix.get(k - 1, l - 1);
  }
  return { groups: members, logHazard: Array.from(logHazard), covariance };
}
