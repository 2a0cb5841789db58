import type { Fault } from "@/lib/words/fault";

const mostListed = 500;

/** Faults as they are found: the first of them kept, all counted, however many a file has. */
export interface FaultList {
  /** Those kept. */
  listed: Fault[];
  count: number;
  add(faults: readonly Fault[]): void;
}

export function faultList(): FaultList {
  const list: FaultList = {
    listed: [],
    count: 0,
    add(faults) {
      list.count += faults.length;
      if (list.listed.length < mostListed)
        list.listed.push(...faults.slice(0, mostListed - list.listed.length));
    },
  };
  return list;
}
