import { insist } from "./requirement";

/** Plants followed from a common start, one entry a plant in two lists of one length, in any order. */
export interface Lifetimes {
  /** When the plant was lost or was last seen standing, ≥ 0: days since planting, for one. */
  times: ArrayLike<number>;
  /** 0: standing when last seen (censored). 1, 2, …: lost, to that cause. */
  causes: ArrayLike<number>;
}

/** What happened at each distinct time, earliest first. */
export interface EventTable {
  times: Float64Array;
  /** Plants still watched just before the time. */
  atRisk: Float64Array;
  lost: Float64Array;
  censored: Float64Array;
}

/** Stops at a time or cause that cannot be meant. */
export function insistOnLifetimes(statistic: string, { times, causes }: Lifetimes): void {
  insist(times.length === causes.length, statistic, "as many causes as times", causes.length);
  for (let plant = 0; plant < times.length; plant += 1) {
    if (!(times[plant] >= 0 && times[plant] < Number.POSITIVE_INFINITY))
      insist(false, statistic, "finite times ≥ 0", times[plant]);
    if (!(causes[plant] >= 0 && Number.isInteger(causes[plant])))
      insist(false, statistic, "causes 0, 1, 2 …", causes[plant]);
  }
}

/** Distinct times, smallest first, and for each plant the place of its own among them. */
export interface PlacedTimes {
  distinct: Float64Array;
  place: Uint32Array;
}

/** Puts times in order once. Whole days are counted off on a calendar; others are sorted and looked up. */
export function placedTimes(times: ArrayLike<number>): PlacedTimes {
  const size = times.length;
  const place = new Uint32Array(size);
  let latest = 0;
  let whole = true;
  for (let plant = 0; plant < size; plant += 1) {
    latest = Math.max(latest, times[plant]);
    whole &&= Number.isInteger(times[plant]);
  }
  if (whole && latest <= 1000 + 4 * size) {
    const calendar = new Uint32Array(latest + 1);
    for (let plant = 0; plant < size; plant += 1) calendar[times[plant]] = 1;
    const distinct: number[] = [];
    for (let day = 0; day <= latest; day += 1)
      if (calendar[day] === 1) {
        calendar[day] = distinct.length;
        distinct.push(day);
      }
    for (let plant = 0; plant < size; plant += 1) place[plant] = calendar[times[plant]];
    return { distinct: Float64Array.from(distinct), place };
  }
  const sorted = Float64Array.from(times).sort();
  let kept = 0;
  for (let at = 0; at < size; at += 1)
    if (at === 0 || sorted[at] !== sorted[kept - 1]) {
      sorted[kept] = sorted[at];
      kept += 1;
    }
  const distinct = sorted.slice(0, kept);
  for (let plant = 0; plant < size; plant += 1) place[plant] = countUpTo(distinct, times[plant]) - 1;
  return { distinct, place };
}

/** How many of the sorted times are ≤ a given one: the place just after the last of them. */
export function countUpTo(sorted: ArrayLike<number>, time: number): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle] <= time) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Plants at risk, lost (to any cause) and censored at each distinct time. Deaths come before censoring at one time. */
export function eventTable(statistic: string, lifetimes: Lifetimes): EventTable {
  insistOnLifetimes(statistic, lifetimes);
  const { times: when, causes } = lifetimes;
  const { distinct: times, place } = placedTimes(when);
  const lost = new Float64Array(times.length);
  const censored = new Float64Array(times.length);
  for (let plant = 0; plant < when.length; plant += 1) {
    if (causes[plant] === 0) censored[place[plant]] += 1;
    else lost[place[plant]] += 1;
  }
  const atRisk = new Float64Array(times.length);
  let watched = 0;
  for (let at = times.length - 1; at >= 0; at -= 1) {
    watched += lost[at] + censored[at];
    atRisk[at] = watched;
  }
  return { times, atRisk, lost, censored };
}
