"use client";

import { useSyncExternalStore } from "react";

const asideLastsMs = 2_000;

let words = "";
let aside: { words: string; atMs: number } | null = null;
const listeners = new Set<() => void>();

function tell(): void {
  for (const listener of listeners) listener();
}

/** Says something in the status line that every field screen shows and reads out: what was done, what was not. */
export function say(said: string): void {
  words = said;
  // What was ignored a moment ago is still news when the act before it is told.
  if (aside !== null && Date.now() - aside.atMs > asideLastsMs) aside = null;
  tell();
}

/** Adds an aside to what is said: that a tap was ignored. */
export function sayAside(said: string): void {
  aside = { words: said, atMs: Date.now() };
  tell();
}

function sayAll(): string {
  return aside === null ? words : `${words} ${aside.words}`.trim();
}

export function useSaid(): string {
  return useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    sayAll,
    () => "",
  );
}
