import { countUpTo, type EventTable, eventTable, type Lifetimes } from "./lifetimes";
import { insist } from "./requirement";

/** A curve of the share standing; it holds from each time until the next. Every list has an entry per distinct time. */
export interface KaplanMeier extends EventTable {
  /** Plants followed in all. */
  plants: number;
  share: Float64Array;
  /** Greenwood's variance of the share; 0 while none, and once all, are lost. */
  variance: Float64Array;
}

/**
 * The share of plants standing over time, by Kaplan and Meier's product, with Greenwood's variance.
 *
 * It takes plants as independent, so its own limits (`kaplanMeierLimits`) are for the working; `standingLimits` knows
 * that plants of one plot share their fate. Losses seen only at walkabouts count at the walkabout that saw them
 * (`lifeTable`); where plots were looked at on different days use `turnbull`.
 *
 * @param lifetimes when each plant was lost or last seen; any cause counts as lost
 * @returns at each distinct time: plants at risk just before it, lost, censored, share after it, variance
 *
 * Conventions: deaths before losses to sight at one time, so a plant censored that day was at risk that day.
 * Edges: no plants gives an empty curve; none lost, a share of 1 throughout; all lost ends at exactly 0.
 * Source: kaplan-meier-1958; greenwood-1926.
 * Checked: tests/reference/standing-curve (R survfit); by hand in tests/unit/statistics/kaplan-meier.test.ts.
 * Example: times 1, 2, 3, 4 with the third censored → 0.75, 0.5, 0.5, 0.
 */
export function kaplanMeier(lifetimes: Lifetimes): KaplanMeier {
  const table = eventTable("kaplanMeier", lifetimes);
  const { atRisk, lost } = table;
  const share = new Float64Array(lost.length);
  const variance = new Float64Array(lost.length);
  let standing = 1;
  let sum = 0;
  for (let at = 0; at < lost.length; at += 1) {
    const left = atRisk[at] - lost[at];
    standing *= left / atRisk[at];
    if (left > 0) sum += lost[at] / (atRisk[at] * left);
    share[at] = standing;
    variance[at] = standing * standing * sum;
  }
  return { ...table, plants: lifetimes.times.length, share, variance };
}

/** What a curve says of one moment. */
export interface Standing {
  share: number;
  variance: number;
  /** Plants seen standing at that moment: still watched, and not lost then. */
  followed: number;
  lostSoFar: number;
}

/** The curve at one moment. `followed` 0 with a share above 0 means that nobody watched that long: say nothing of it. */
export function standingAt(curve: KaplanMeier, time: number): Standing {
  insist(time >= 0, "standingAt", "a time ≥ 0", time);
  const passed = countUpTo(curve.times, time);
  if (passed === 0) return { share: 1, variance: 0, followed: curve.plants, lostSoFar: 0 };
  let lostSoFar = 0;
  for (let at = 0; at < passed; at += 1) lostSoFar += curve.lost[at];
  const last = passed - 1;
  const seenNow = curve.times[last] === time ? curve.censored[last] : 0;
  const followed = curve.atRisk[last] - curve.lost[last] - curve.censored[last] + seenNow;
  return { share: curve.share[last], variance: curve.variance[last], followed, lostSoFar };
}
