import { insistOnLifetimes, type Lifetimes, placedTimes } from "./lifetimes";
import { insist } from "./requirement";

/** Plants followed from a common start, each of a group and perhaps in a block. */
export interface GroupedLifetimes extends Lifetimes {
  /** Group of each plant: 0, 1, 2, … */
  groups: ArrayLike<number>;
  /** Block of each plant (0, 1, 2, …) when groups are to be compared only within blocks; null when not. */
  blocks: ArrayLike<number> | null;
}

/** Counts of one block by time and group: the cell of a group starts at time × groups. */
export interface BlockEvents {
  times: number;
  lost: Float64Array;
  /** Lost or censored. */
  gone: Float64Array;
  /** Plants at the start, by group. */
  watched: Float64Array;
}

/** Counts plants once over by block (one if not asked for), time and group, and stops at what cannot be meant. */
export function groupedEvents(statistic: string, lifetimes: GroupedLifetimes, groups: number): BlockEvents[] {
  const { times: when, causes, groups: groupOf, blocks } = lifetimes;
  insistOnLifetimes(statistic, lifetimes);
  insist(Number.isInteger(groups) && groups >= 1, statistic, "at least one group", groups);
  insist(groupOf.length === when.length, statistic, "as many groups as times", groupOf.length);
  insist(
    blocks === null || blocks.length === when.length,
    statistic,
    "as many blocks as times",
    blocks?.length ?? 0,
  );
  let strata = 1;
  for (let plant = 0; plant < when.length; plant += 1) {
    if (!(groupOf[plant] >= 0 && groupOf[plant] < groups && Number.isInteger(groupOf[plant])))
      insist(false, statistic, `groups 0 to ${groups - 1}`, groupOf[plant]);
    if (blocks === null) continue;
    if (!(blocks[plant] >= 0 && Number.isInteger(blocks[plant])))
      insist(false, statistic, "blocks 0, 1, 2 …", blocks[plant]);
    strata = Math.max(strata, blocks[plant] + 1);
  }
  const sizes = new Uint32Array(strata);
  for (let plant = 0; plant < when.length; plant += 1) sizes[blocks === null ? 0 : blocks[plant]] += 1;
  const own = Array.from(sizes, (size) => ({ plants: new Uint32Array(size), times: new Float64Array(size) }));
  const filled = new Uint32Array(strata);
  for (let plant = 0; plant < when.length; plant += 1) {
    const stratum = blocks === null ? 0 : blocks[plant];
    own[stratum].plants[filled[stratum]] = plant;
    own[stratum].times[filled[stratum]] = when[plant];
    filled[stratum] += 1;
  }
  return own.map(({ plants, times }) => {
    const { distinct, place } = placedTimes(times);
    const lost = new Float64Array(distinct.length * groups);
    const gone = new Float64Array(distinct.length * groups);
    const watched = new Float64Array(groups);
    for (let index = 0; index < plants.length; index += 1) {
      const group = groupOf[plants[index]];
      const cell = place[index] * groups + group;
      watched[group] += 1;
      gone[cell] += 1;
      if (causes[plants[index]] > 0) lost[cell] += 1;
    }
    return { times: distinct.length, lost, gone, watched };
  });
}
