const hourMs = 3_600_000;
const offMs = 6 * hourMs;

/** Whether the phone's clock is so far from home's that facts would get another day. */
export function isClockOff(aheadMs: number | null): boolean {
  return Math.abs(aheadMs ?? 0) > offMs;
}

/** *This phone's clock is 7 days ahead of home's.* */
export function sayClockOff(aheadMs: number): string {
  const hours = Math.round(Math.abs(aheadMs) / hourMs);
  const apart = hours < 48 ? `${hours} hours` : `${Math.round(hours / 24)} days`;
  return `This phone's clock is ${apart} ${aheadMs > 0 ? "ahead of" : "behind"} home's.`;
}

/** Whether an answer about the clock still holds: the clock has not moved since by more than would be asked about. */
export function stillAnswered(answeredAheadMs: number, aheadMs: number): boolean {
  return Math.abs(answeredAheadMs - aheadMs) <= offMs;
}
