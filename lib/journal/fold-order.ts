import type { Fact } from "@/lib/words/bed-fact";

/** What the order goes by. */
export type Ordered = Pick<Fact, "seenOn" | "deviceId" | "deviceSequence" | "id">;

function compared(a: string | number, b: string | number): number {
  if (a === b) return 0;
  return a < b ? -1 : 1;
}

/**
 * The one order in which facts fold: the day seen, then the device, then that device's own count. The id only breaks a
 * tie that a well-behaved device never makes (a phone restored from a copy may count the same number twice), so that
 * even then the order of arrival changes nothing.
 */
export function foldOrder(a: Ordered, b: Ordered): number {
  return (
    compared(a.seenOn, b.seenOn) ||
    compared(a.deviceId, b.deviceId) ||
    compared(a.deviceSequence, b.deviceSequence) ||
    compared(a.id, b.id)
  );
}
