import { v7 as timeOrderedId } from "uuid";
import { contractVersion } from "@/lib/sync/contract";
import type { Fact } from "@/lib/words/bed-fact";
import { type Instant, instantOf } from "@/lib/words/instant";
import type { DeviceStore, HeldPictures, Kept, Picture } from "./device-store";
import type { Draft } from "./fact-draft";
import { indexedDbStore } from "./indexed-db-store";
import type { EntryChange, OutboxEntry } from "./outbox-entry";
import { refreshPack } from "./refresh-pack";
import { retryWaitMs } from "./retry-wait";
import { type Put, sendPictures } from "./send-pictures";
import { type Post, sendRound, type Trouble } from "./send-round";

/** What the pages draw from; a new object whenever anything in it changes. */
export interface DeviceState {
  /** False until the phone's own store has been read. */
  ready: boolean;
  kept: Kept;
  entries: OutboxEntry[];
  pictures: HeldPictures;
  /** Whether this browser has promised not to empty the page's store by itself; null until it has answered. */
  persisted: boolean | null;
  sending: boolean;
  trouble: Trouble | null;
  /** What home said of why it takes facts later. */
  why: string | null;
  /** Why the phone could not open its store or write to it; null when it could. */
  storeFault: string | null;
}

/** What goes into the same transaction as facts. */
export interface Besides {
  alongside?(ids: string[]): Partial<Kept>;
  /** Refused facts that these settle. */
  settles?: string[];
  pictures?: Picture[];
}

export interface Device {
  state(): DeviceState;
  subscribe(listener: () => void): () => void;
  /** Writes facts and what is kept alongside; resolves only when the phone has them, and then sends. */
  record(drafts: Draft[], besides?: Besides): Promise<Fact[]>;
  /** Asks the browser never to empty this page's store by itself. */
  askToPersist(): Promise<void>;
  keep(things: Partial<Kept>): Promise<void>;
  /** Puts a refused fact aside: it stays on the phone and is not sent. */
  setAside(id: string): Promise<void>;
  /** Sends what waits and brings the field pack up to date, unless another tab is at it. */
  sync(): Promise<void>;
  now(): Instant;
  /** A new id that sorts by time. */
  newId(): string;
}

const nothingKept: Kept = {
  by: null,
  pack: null,
  walk: null,
  weighIn: null,
  marks: null,
  recentCauses: null,
  clockAheadMs: null,
  clockAnswer: null,
  hand: null,
};

/** The state before the phone's store has been read, on the server too. */
export const stateAtFirst: DeviceState = {
  ready: false,
  kept: nothingKept,
  entries: [],
  pictures: { waiting: [], refused: [] },
  persisted: null,
  sending: false,
  trouble: null,
  why: null,
  storeFault: null,
};

const sendingRoute = "/api/observations";
const packRoute = `/api/field-pack?contract=${contractVersion}`;
const pictureWithinMs = 90_000;
const answerWithinMs = 20_000;
/** The pack is fetched on opening, coming back and coming online; while facts are being made, no oftener than this. */
const packEveryMs = 60_000;
/** A new fact is sent when this has passed without another: sending is never in the way of the next tap. */
const sendAfterMs = 300;
/** By less than this the two clocks are not told to have moved apart anew. */
const clockWithinMs = 1_000;

const post: Post = async (batch) => {
  const response = await fetch(sendingRoute, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify(batch),
    cache: "no-store",
    signal: AbortSignal.timeout(answerWithinMs),
  });
  return { status: response.status, text: await response.text() };
};

const put: Put = async (sha256, bytes) => {
  const response = await fetch(`/api/picture/${sha256}`, {
    method: "PUT",
    headers: { "content-type": "image/jpeg" },
    body: bytes,
    cache: "no-store",
    signal: AbortSignal.timeout(pictureWithinMs),
  });
  return { status: response.status };
};

async function askForPack(etag: string | null) {
  const response = await fetch(packRoute, {
    headers: etag === null ? {} : { "if-none-match": etag },
    cache: "no-store",
    signal: AbortSignal.timeout(answerWithinMs),
  });
  const { headers, status } = response;
  return { status, text: await response.text(), etag: headers.get("etag"), date: headers.get("date") };
}

/** Runs the work in one tab at a time. Without Web Locks two tabs may send the same fact, which changes nothing at home. */
async function alone(work: () => Promise<void>): Promise<void> {
  if (!navigator.locks) return work();
  await navigator.locks.request("proving-bed-sender", { ifAvailable: true }, async (lock) => {
    if (lock) await work();
  });
}

function sayFault(fault: unknown): string {
  if (fault instanceof DOMException && fault.name === "QuotaExceededError")
    return "The phone's storage is full.";
  return fault instanceof Error ? fault.message : "The phone's storage did not answer.";
}

function openDevice(store: DeviceStore): Device {
  let state = stateAtFirst;
  let failedRounds = 0;
  let retry: ReturnType<typeof setTimeout> | undefined;
  let soon: ReturnType<typeof setTimeout> | undefined;
  /** What was asked for while a round was under way; null for nothing. */
  let asked: "send" | "send and fetch" | null = null;
  let packAskedMs = 0;
  const listeners = new Set<() => void>();
  const otherTabs = new BroadcastChannel("proving-bed");

  const now = () => instantOf(Date.now());
  const become = (changes: Partial<DeviceState>) => {
    state = { ...state, ...changes };
    for (const listener of listeners) listener();
  };
  const read = async () => {
    try {
      const [kept, entries, pictures] = await Promise.all([store.kept(), store.entries(), store.pictures()]);
      become({ ready: true, kept, entries, pictures });
    } catch (fault) {
      become({ storeFault: sayFault(fault) });
    }
  };
  /** What a round of sending can change; a pack only where a new one came. */
  const readSent = async (packCame: boolean) => {
    try {
      const pack = packCame ? (await store.kept(["pack"])).pack : null;
      const pictures = await store.pictures();
      // Last and at once: a fact that is made while the others are read must not be missing from the screen.
      const entries = await store.entries();
      become({ entries, pictures, kept: pack === null ? state.kept : { ...state.kept, pack } });
    } catch (fault) {
      become({ storeFault: sayFault(fault) });
    }
  };
  const write = async <Value>(work: () => Promise<Value>): Promise<Value> => {
    try {
      const value = await work();
      if (state.storeFault !== null) become({ storeFault: null });
      return value;
    } catch (fault) {
      become({ storeFault: sayFault(fault) });
      throw fault;
    }
  };
  const tellTabs = () => otherTabs.postMessage("changed");
  const keep = async (things: Partial<Kept>) => {
    await store.keep(things);
    become({ kept: { ...state.kept, ...things } });
    tellTabs();
  };

  // A phone that slept while the answer was on its way would take its sleep for a clock that is off.
  const noteClock = async (homeTime: string | null, askedMs: number) => {
    const homeMs = Date.parse(homeTime ?? "");
    if (Number.isNaN(homeMs) || Date.now() - askedMs > 2 * answerWithinMs) return;
    const clockAheadMs = Date.now() - homeMs;
    const known = state.kept.clockAheadMs;
    if (known === null || Math.abs(known - clockAheadMs) >= clockWithinMs) await keep({ clockAheadMs });
  };
  const oneRound = async (what: "send" | "send and fetch") => {
    const begunMs = Date.now();
    const round = await sendRound(store, post);
    await noteClock(round.serverTime, begunMs);
    const held = state.pictures.waiting.length;
    let trouble = round.trouble ?? (await sendPictures(store, put));
    let packCame = false;
    if (what === "send and fetch" || Date.now() - packAskedMs > packEveryMs) {
      const pack = await refreshPack(
        store,
        async (etag) => {
          const askedMs = Date.now();
          const answer = await askForPack(etag);
          // An error may come from something between here and home, with a clock of its own.
          if (answer.status === 200 || answer.status === 304) await noteClock(answer.date, askedMs);
          return answer;
        },
        now(),
      );
      packCame = pack === "new";
      if (pack === "new" || pack === "same") packAskedMs = Date.now();
      else trouble ??= pack;
    }
    // Where nothing was answered for nothing has changed, and a winter's facts need not be read again.
    if (packCame || held > 0 || round.home + round.refused > 0) {
      await readSent(packCame);
      tellTabs();
    }
    failedRounds = trouble === null ? 0 : failedRounds + 1;
    become({ trouble, why: round.why });
  };
  // A signal that came back while a round failed for want of it is used at once; a fact made meanwhile waits its turn.
  const nextRound = () => (state.trouble === null || asked === "send and fetch" ? asked : null);
  const sync = async (what: "send" | "send and fetch" = "send and fetch") => {
    if (state.sending) {
      if (asked !== "send and fetch") asked = what;
      return;
    }
    clearTimeout(retry);
    clearTimeout(soon);
    soon = undefined;
    become({ sending: true });
    try {
      for (let next: typeof asked = what; next !== null; next = nextRound()) {
        const round = next;
        asked = null;
        await alone(() => oneRound(round));
      }
    } catch (fault) {
      failedRounds += 1;
      await readSent(true);
      become({ storeFault: sayFault(fault) });
    }
    asked = null;
    // A store that could not be read at first may be by now.
    if (!state.ready) await read();
    become({ sending: false });
    const waits =
      state.pictures.waiting.length > 0 || state.entries.some((entry) => entry.state === "waiting");
    if (state.trouble !== null || waits)
      retry = setTimeout(() => sync(), retryWaitMs(failedRounds, Math.random()));
  };

  otherTabs.onmessage = read;
  addEventListener("online", () => void sync());
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") void sync();
    // A phone that is put away sends at once what it was about to.
    else if (soon !== undefined) void sync("send");
  });
  void read().then(() => sync());

  return {
    state: () => state,
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    async record(drafts, { alongside = () => ({}), settles = [], pictures = [] } = {}) {
      const ids = drafts.map(() => timeOrderedId());
      const things = alongside(ids);
      const ahead = state.kept.clockAheadMs;
      const clockSkewS = ahead === null ? null : Math.round(ahead / 1_000);
      const recording = { drafts, ids, recordedAt: now(), clockSkewS, pictures, alongside: things, settles };
      const entries = await write(() => store.record(recording));
      become({ kept: { ...state.kept, ...things }, entries: [...state.entries, ...entries] });
      if (settles.length > 0 || pictures.length > 0) await readSent(false);
      tellTabs();
      clearTimeout(soon);
      soon = setTimeout(() => sync("send"), sendAfterMs);
      return entries.map((entry) => entry.fact);
    },
    async keep(things) {
      await write(() => keep(things));
    },
    async setAside(id) {
      const change: EntryChange = { id, state: "settled", settledBy: null };
      await write(() => store.change([change]));
      await readSent(false);
      tellTabs();
    },
    async askToPersist() {
      // There only over HTTPS or on this machine; without it the browser may empty the store when room runs short.
      const storage = navigator.storage as StorageManager | undefined;
      const persisted = (await storage?.persist?.().catch(() => false)) ?? false;
      become({ persisted });
    },
    sync: () => sync(),
    now,
    newId: () => timeOrderedId(),
  };
}

let thisDevice: Device | null = null;

/** This tab's device; opened once, in the browser only. */
export function device(): Device {
  thisDevice ??= openDevice(indexedDbStore());
  return thisDevice;
}
