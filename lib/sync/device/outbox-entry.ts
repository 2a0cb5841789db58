import type { Fact } from "@/lib/words/bed-fact";

/**
 * - `waiting`: on this phone only, or sent without an answer yet.
 * - `refused`: home can never take it as it is; it waits for the grower among what is *to be settled*.
 * - `home`: on the home disk, and kept here only until the home facts on this phone show it.
 * - `settled`: a refused fact that the grower wrote anew or set aside; kept, never sent.
 */
export type EntryState = "waiting" | "refused" | "home" | "settled";

/** One fact in the outbox. Nothing in the program deletes an entry that is not `home`. */
export interface OutboxEntry {
  /** The form of this entry, so that a later version can read what an older one left. */
  schema: 1;
  /** The fact's own id. */
  id: string;
  /** The fact's `deviceSequence`: the order in which facts were made here. */
  sequence: number;
  fact: Fact;
  state: EntryState;
  /** Why home refused it. */
  refusal: { place: string; found: string; wanted: string } | null;
  /** The id of the fact written in its stead; null also when it was set aside. */
  settledBy: string | null;
}

/** What became of an entry: its new state with the reason. */
export interface EntryChange {
  id: string;
  state: EntryState;
  refusal?: OutboxEntry["refusal"];
  settledBy?: string | null;
}

/** The entry after a change; a change that names no reason keeps the old one. */
export function changeEntry(entry: OutboxEntry, change: EntryChange): OutboxEntry {
  return {
    ...entry,
    state: change.state,
    refusal: change.refusal === undefined ? entry.refusal : change.refusal,
    settledBy: change.settledBy === undefined ? entry.settledBy : change.settledBy,
  };
}
