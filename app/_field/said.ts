"use client";

import { useSyncExternalStore } from "react";

const asideLastsMs = 2_000;

interface Said {
  words: string;
  aside: { words: string; atMs: number } | null;
}

const nothing: Said = { words: "", aside: null };
let said = nothing;
const listeners = new Set<() => void>();

function become(next: Said): void {
  said = next;
  for (const listener of listeners) listener();
}

/** Says something in the status line that every field screen shows and reads out: what was done, what was not. */
export function say(words: string): void {
  // What was ignored a moment ago is still news when the act before it is told.
  const fresh = said.aside !== null && Date.now() - said.aside.atMs <= asideLastsMs;
  become({ words, aside: fresh ? said.aside : null });
}

/** Adds an aside to what is said: that a tap was ignored. */
export function sayAside(words: string): void {
  become({ ...said, aside: { words, atMs: Date.now() } });
}

export function useSaid(): Said {
  return useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => said,
    () => nothing,
  );
}
