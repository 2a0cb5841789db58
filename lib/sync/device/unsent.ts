import type { Instant } from "@/lib/words/instant";
import type { HeldPictures } from "./device-store";
import type { OutboxEntry } from "./outbox-entry";

export interface Unsent {
  waiting: number;
  toBeSettled: number;
  /** Pictures that home has not answered for, or could not take. */
  pictures: number;
  /** Since when the oldest fact that is not yet home has been on this phone, in milliseconds; null when there is none. */
  oldestMs: number | null;
}

/** What is on this phone only, and for how long. */
export function unsent(entries: OutboxEntry[], pictures: HeldPictures, nowMs: number): Unsent {
  const held = entries.filter((entry) => entry.state === "waiting" || entry.state === "refused");
  // Instants are written so that they sort as text.
  const oldest = held.reduce<Instant | null>(
    (first, { fact }) => (first === null || fact.recordedAt < first ? fact.recordedAt : first),
    null,
  );
  return {
    waiting: held.filter((entry) => entry.state === "waiting").length,
    toBeSettled: held.filter((entry) => entry.state === "refused").length,
    pictures: pictures.waiting.length + pictures.refused.length,
    oldestMs: oldest === null ? null : Math.max(0, nowMs - Date.parse(oldest)),
  };
}

const minuteMs = 60_000;
const hourMs = 60 * minuteMs;
const dayMs = 24 * hourMs;

/** How long ago, as it is said: *just now*, *4 minutes*, *2 hours*, *3 days*. */
export function sayAge(ageMs: number): string {
  const of = (count: number, unit: string) => `${count} ${unit}${count === 1 ? "" : "s"}`;
  if (ageMs < minuteMs) return "just now";
  if (ageMs < hourMs) return of(Math.floor(ageMs / minuteMs), "minute");
  if (ageMs < 2 * dayMs) return of(Math.floor(ageMs / hourMs), "hour");
  return of(Math.floor(ageMs / dayMs), "day");
}
