import { v7 as timeOrderedId } from "uuid";
import { type Instant, instantOf } from "@/lib/words/instant";
import type { Observation } from "@/lib/words/observation";
import type { DeviceStore, Kept } from "./device-store";
import type { FactDraft } from "./fact-draft";
import { indexedDbStore } from "./indexed-db-store";
import type { EntryChange, OutboxEntry } from "./outbox-entry";
import { refreshPack } from "./refresh-pack";
import { retryWaitMs } from "./retry-wait";
import { type Post, sendRound, type Trouble } from "./send-round";

/** What the pages draw from; a new object whenever anything in it changes. */
export interface DeviceState {
  /** False until the phone's own store has been read. */
  ready: boolean;
  kept: Kept;
  entries: OutboxEntry[];
  sending: boolean;
  trouble: Trouble | null;
  /** What home said of why it takes facts later. */
  why: string | null;
  /** Why the phone could not open its store or write to it; null when it could. */
  storeFault: string | null;
}

export interface Device {
  state(): DeviceState;
  subscribe(listener: () => void): () => void;
  /** Writes facts and what is kept alongside; resolves only when the phone has them, and then sends. */
  record(
    drafts: FactDraft[],
    alongside?: (ids: string[]) => Partial<Kept>,
    settles?: string[],
  ): Promise<Observation[]>;
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
};

/** The state before the phone's store has been read, on the server too. */
export const stateAtFirst: DeviceState = {
  ready: false,
  kept: nothingKept,
  entries: [],
  sending: false,
  trouble: null,
  why: null,
  storeFault: null,
};

const sendingRoute = "/api/observations";
const packRoute = "/api/field-pack";
const answerWithinMs = 20_000;
/** The pack is fetched on opening, coming back and coming online; while facts are being made, no oftener than this. */
const packEveryMs = 60_000;

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

async function askForPack(etag: string | null) {
  const response = await fetch(packRoute, {
    headers: etag === null ? {} : { "if-none-match": etag },
    cache: "no-store",
    signal: AbortSignal.timeout(answerWithinMs),
  });
  return { status: response.status, text: await response.text(), etag: response.headers.get("etag") };
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
  let again = false;
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
      const [kept, entries] = await Promise.all([store.kept(), store.entries()]);
      become({ ready: true, kept, entries });
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
  const told = async () => {
    await read();
    otherTabs.postMessage("changed");
  };

  const oneRound = async (what: "send" | "send and fetch") => {
    const round = await sendRound(store, post);
    if (round.serverTime !== null)
      await store.keep({ clockAheadMs: Date.now() - Date.parse(round.serverTime) });
    let trouble = round.trouble;
    if (what === "send and fetch" || Date.now() - packAskedMs > packEveryMs) {
      const pack = await refreshPack(store, askForPack, now());
      if (pack === "new" || pack === "same") packAskedMs = Date.now();
      else trouble ??= pack;
    }
    failedRounds = trouble === null ? 0 : failedRounds + 1;
    become({ trouble, why: round.why });
  };
  const sync = async (what: "send" | "send and fetch" = "send and fetch") => {
    if (state.sending) {
      again = true;
      return;
    }
    clearTimeout(retry);
    become({ sending: true });
    try {
      do {
        again = false;
        await alone(() => oneRound(what));
      } while (again && state.trouble === null);
    } catch (fault) {
      failedRounds += 1;
      become({ storeFault: sayFault(fault) });
    }
    again = false;
    become({ sending: false });
    await told();
    const waits = state.entries.some((entry) => entry.state === "waiting");
    if (state.trouble !== null || waits)
      retry = setTimeout(() => sync(), retryWaitMs(failedRounds, Math.random()));
  };

  otherTabs.onmessage = read;
  addEventListener("online", () => void sync());
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") void sync();
  });
  void read().then(() => sync());

  return {
    state: () => state,
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    async record(drafts, alongside = () => ({}), settles = []) {
      const ids = drafts.map(() => timeOrderedId());
      const things = alongside(ids);
      const recording = { drafts, ids, recordedAt: now(), alongside: things, settles };
      const entries = await write(() => store.record(recording));
      become({ kept: { ...state.kept, ...things }, entries: [...state.entries, ...entries] });
      if (settles.length > 0) await read();
      otherTabs.postMessage("changed");
      void sync("send");
      return entries.map((entry) => entry.fact);
    },
    async keep(things) {
      await write(() => store.keep(things));
      await told();
    },
    async setAside(id) {
      const change: EntryChange = { id, state: "settled", settledBy: null };
      await write(() => store.change([change]));
      await told();
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
