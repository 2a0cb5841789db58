import type { Fact } from "@/lib/words/bed-fact";
import type { Instant } from "@/lib/words/instant";

/**
 * The version of this contract; a phone and a server may be one version apart. The first knew facts of plots only; the
 * second has facts of beds, pictures and the skew of the device's clock as well.
 */
export const contractVersion = 2;

/** The most facts, and the most bytes, in one sending. */
export const batchLimit = { facts: 100, bytes: 256_000 } as const;

/** What a device sends to `POST /api/observations`; read against `batchSchema`. */
export interface Batch {
  contract: number;
  facts: Fact[];
}

/**
 * The answer for one fact, by its id. `recorded` and `already`: it is on the home disk. `refused`: it can never be
 * taken as it is (malformed, unknown plot, same id with another body); nothing is refused for its arithmetic.
 * `later`: nothing was decided; keep it and try again.
 */
export type FactReply =
  | { id: string; answer: "recorded" }
  | { id: string; answer: "already" }
  | { id: string; answer: "refused"; place: string; found: string; wanted: string }
  | { id: string; answer: "later"; why: string };

export interface BatchReply {
  contract: number;
  /** The server's clock when it answered, so that a phone can see that its own is off. */
  serverTime: Instant;
  replies: FactReply[];
}
