import { type Batch, batchLimit, contractVersion } from "@/lib/sync/contract";
import type { Fact } from "@/lib/words/bed-fact";
import type { DeviceStore } from "./device-store";
import type { EntryChange } from "./outbox-entry";
import { readReply } from "./read-reply";
import { takeBatch } from "./take-batch";

/** Why facts wait, for the strip that is always in sight. */
export type Trouble = "no signal" | "sign in" | "home cannot answer" | "home says later";

export interface Round {
  /** Facts that home answered for in this round. */
  home: number;
  refused: number;
  trouble: Trouble | null;
  /** What home itself said of why it takes facts later. */
  why: string | null;
  /** Home's clock, where it answered. */
  serverTime: string | null;
}

/** Sends a batch; rejects when there is no network. */
export type Post = (batch: Batch) => Promise<{ status: number; text: string }>;

const patience = 3;
/** So many entries are read at a time: a winter's facts that wait are not all read for one sending. */
const pageSize = 200;

/** The first facts that wait and were not tried, as many as one sending may hold. */
async function firstWaiting(store: DeviceStore, tried: ReadonlySet<string>, most: number): Promise<Fact[]> {
  const found: Fact[] = [];
  for (let after = -1; ; ) {
    const page = await store.entries({ after, most: pageSize });
    for (const entry of page) if (entry.state === "waiting" && !tried.has(entry.id)) found.push(entry.fact);
    const last = page.at(-1);
    if (last === undefined || page.length < pageSize || found.length >= most) return found.slice(0, most);
    after = last.sequence;
  }
}

/**
 * Sends what waits, oldest first, until everything was tried once. A fact leaves `waiting` only by an answer for its own
 * id. When home cannot answer for a batch as a whole, the batch is halved until the fact that it stumbles over stands
 * alone and is passed by, so that one bad fact never holds up the others; after three such in a row the round ends.
 */
export async function sendRound(store: DeviceStore, post: Post): Promise<Round> {
  const tried = new Set<string>();
  const round: Round = { home: 0, refused: 0, trouble: null, why: null, serverTime: null };
  let size: number = batchLimit.facts;
  let stumbles = 0;
  for (;;) {
    const queue = await firstWaiting(store, tried, size);
    const facts = takeBatch(queue, { facts: size, bytes: batchLimit.bytes });
    if (facts.length === 0) return round;

    let answered: { status: number; text: string };
    try {
      answered = await post({ contract: contractVersion, facts });
    } catch {
      return { ...round, trouble: "no signal" };
    }
    if (answered.status === 401 || answered.status === 403) return { ...round, trouble: "sign in" };

    const reply = answered.status < 400 ? readReply(answered.text) : null;
    if (reply === null) {
      round.trouble = "home cannot answer";
      if (answered.status === 429 || answered.status === 503) return round;
      if (facts.length > 1) {
        size = Math.ceil(facts.length / 2);
        continue;
      }
      tried.add(facts[0].id);
      stumbles += 1;
      if (stumbles === patience) return round;
      continue;
    }

    stumbles = 0;
    size = batchLimit.facts;
    round.serverTime = reply.serverTime;
    const sent = new Set(facts.map((fact) => fact.id));
    for (const id of sent) tried.add(id);
    const changes: EntryChange[] = [];
    for (const answer of reply.replies) {
      if (!sent.has(answer.id)) continue;
      if (answer.answer === "recorded" || answer.answer === "already") {
        changes.push({ id: answer.id, state: "home" });
        round.home += 1;
      } else if (answer.answer === "refused") {
        const { place, found, wanted } = answer;
        changes.push({ id: answer.id, state: "refused", refusal: { place, found, wanted } });
        round.refused += 1;
      } else {
        round.trouble ??= "home says later";
        round.why ??= answer.why;
      }
    }
    if (changes.length > 0) await store.change(changes);
  }
}
