import { insistOnLifetimes, type Lifetimes, placedTimes } from "./lifetimes";
import { insist } from "./requirement";

export interface AalenJohansen {
  /** Distinct times at which a plant was lost or censored, ascending. */
  times: Float64Array;
  /** Plants still watched just before each time. */
  atRisk: Float64Array;
  /** For causes 1, 2, …, in order. */
  causes: LostToCause[];
}

export interface LostToCause {
  lost: Float64Array;
  /** Share of all plants lost to the cause up to each time. */
  share: Float64Array;
  variance: Float64Array;
}

/**
 * The share of plants lost to each cause over time, where another cause may come first: the cumulative incidence.
 *
 * Never 1 − Kaplan–Meier of one cause with the others censored: that answers for a world in which the others do not
 * exist, and its shares add up to more than was lost. Code as 0 what is censoring: plants harvested whole, unless the
 * question is about them.
 *
 * @param lifetimes when each plant was lost, to which cause, or last seen
 * @param causes how many causes there are, so that one that took nothing has its curve of zeros
 *
 * Conventions: deaths before censoring at one time; variance by the delta method, which takes plants as independent
 * (shares with limits in plots: `effectivePlants` on the counts).
 * Edges: shares of all causes and of those standing add up to 1; a cause that took nothing has share and variance 0.
 * Source: aalen-johansen-1978; variance marubini-valsecchi-1995, equation 10.12.
 * Checked: tests/reference/causes-of-loss (R survfit multi-state; plain twin).
 * Example: of 4 plants, 1 to slugs on day 1, 1 to frost on day 2, two standing → 0.25 and 0.25.
 */
export function aalenJohansen(lifetimes: Lifetimes, causes: number): AalenJohansen {
  insistOnLifetimes("aalenJohansen", lifetimes);
  insist(Number.isInteger(causes) && causes >= 1, "aalenJohansen", "at least one cause", causes);
  const { distinct: times, place } = placedTimes(lifetimes.times);
  const size = times.length;
  const atRisk = new Float64Array(size);
  const lost = Array.from({ length: causes }, () => new Float64Array(size));
  for (let plant = 0; plant < lifetimes.times.length; plant += 1) {
    const cause = lifetimes.causes[plant];
    if (cause > causes) insist(false, "aalenJohansen", `causes up to ${causes}`, cause);
    atRisk[place[plant]] += 1;
    if (cause > 0) lost[cause - 1][place[plant]] += 1;
  }
  for (let at = size - 2; at >= 0; at -= 1) atRisk[at] += atRisk[at + 1];
  const all = new Float64Array(size);
  for (const own of lost) for (let at = 0; at < size; at += 1) all[at] += own[at];
  return { times, atRisk, causes: lost.map((own) => incidence(atRisk, all, own)) };
}

/**
 * With F the share lost to the cause and S all those standing, the variance of F at a time is
 * Σ (F − F_i)² all_i/(n_i (n_i − all_i)) + Σ S_{i−1}² own_i (n_i − own_i)/n_i³ − 2 Σ (F − F_i) S_{i−1} own_i/n_i².
 * The first and last sums are carried forward as F rises, by steps that only add, so nothing cancels.
 */
function incidence(atRisk: Float64Array, all: Float64Array, own: Float64Array): LostToCause {
  const share = new Float64Array(own.length);
  const variance = new Float64Array(own.length);
  let standing = 1;
  let lost = 0;
  let hazard = 0;
  let gapped = 0;
  let gappedTwice = 0;
  let own2 = 0;
  let cross = 0;
  let gappedCross = 0;
  for (let at = 0; at < own.length; at += 1) {
    const n = atRisk[at];
    const left = n - all[at];
    const rise = (standing * own[at]) / n;
    gappedTwice += rise * (2 * gapped + rise * hazard);
    gapped += rise * hazard;
    gappedCross += rise * cross;
    lost += rise;
    if (left > 0) hazard += all[at] / (n * left);
    own2 += (standing * standing * own[at] * (n - own[at])) / (n * n * n);
    cross += (standing * own[at]) / (n * n);
    standing *= left / n;
    share[at] = lost;
    variance[at] = Math.max(0, gappedTwice + own2 - 2 * gappedCross);
  }
  return { lost: own, share, variance };
}
