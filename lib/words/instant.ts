import type { Brand } from "./brand";

/** A moment in UTC, `2026-11-25T22:10:04.120Z`: when something was recorded or received. */
export type Instant = Brand<string, "Instant">;

/** Whether a text is an instant in the stored form. */
export function isInstant(text: string): text is Instant {
  if (!/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}\.\d{3}Z$/.test(text)) return false;
  const date = new Date(text);
  return !Number.isNaN(date.getTime()) && date.toISOString() === text;
}

/** The instant of so many milliseconds since 1970. */
export function instantOf(milliseconds: number): Instant {
  return new Date(milliseconds).toISOString() as Instant;
}
