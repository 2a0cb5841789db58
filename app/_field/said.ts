"use client";

import { useSyncExternalStore } from "react";

let words = "";
const listeners = new Set<() => void>();

/** Says something in the status line that every field screen shows and reads out: what was done, what was ignored. */
export function say(said: string): void {
  words = said;
  for (const listener of listeners) listener();
}

/** Adds an aside to what was said last, once. */
export function sayAside(aside: string): void {
  if (!words.endsWith(aside)) say(`${words} ${aside}`.trim());
}

export function useSaid(): string {
  return useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => words,
    () => "",
  );
}
