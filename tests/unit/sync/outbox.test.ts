import { expect, test } from "vitest";
import { batchLimit } from "@/lib/sync/contract";
import { allFacts } from "@/lib/sync/device/all-facts";
import { draftWithdrawal } from "@/lib/sync/device/fact-draft";
import { readReply } from "@/lib/sync/device/read-reply";
import { refreshPack, seenAtHome } from "@/lib/sync/device/refresh-pack";
import { retryWaitMs } from "@/lib/sync/device/retry-wait";
import { batchBytes, takeBatch } from "@/lib/sync/device/take-batch";
import { sayAge, unsent } from "@/lib/sync/device/unsent";
import { unsentFile } from "@/lib/sync/device/unsent-file";
import type { FieldPack } from "@/lib/sync/field-pack";
import { observationMisfit, observationSchema } from "@/lib/words/observation";
import { idOf, instantAt, lossDraft, plotFacts, walkDay } from "./facts";
import { memoryStore } from "./memory-store";

const deviceId = idOf(999_999);

function record(store: ReturnType<typeof memoryStore>, number: number, note: string | null = null) {
  return store.record({
    drafts: [lossDraft("plot-1", { note })],
    ids: [idOf(number)],
    recordedAt: instantAt(number),
    alongside: {},
    settles: [],
  });
}

function pack(changes: Partial<FieldPack> = {}): FieldPack {
  const plot = {
    id: "plot-1",
    trialId: "trial",
    code: "A1",
    variety: "Pennick",
    plants: 3,
    plantRows: 1,
    xMm: 0,
    yMm: 0,
    widthMm: 600,
    lengthMm: 500,
    plantedOn: walkDay,
  };
  return {
    version: "1",
    gardenName: "Hazel Clough",
    timeZone: "Europe/London",
    today: walkDay,
    beds: [{ id: "bed", name: "Long bed", widthMm: 1200, lengthMm: 4000, covers: [], plots: [plot] }],
    trials: [],
    facts: [],
    bedFacts: [],
    bedFactsSince: walkDay,
    causes: [],
    ...changes,
  };
}

test("the device's own count goes strictly up, and each fact is whole by the vocabulary", async () => {
  const store = memoryStore(deviceId);
  for (const number of [0, 1, 2]) await record(store, number);
  const facts = plotFacts(await store.entries());
  expect(facts.map((fact) => fact.deviceSequence)).toEqual([0, 1, 2]);
  for (const fact of facts) {
    expect(observationSchema.safeParse(fact).success).toBe(true);
    expect(observationMisfit(fact)).toBeNull();
  }
});

test("a withdrawal names its fact, says why and stays on its plot and cohort", async () => {
  const store = memoryStore(deviceId);
  const [{ fact }] = await record(store, 0);
  const act = { seenOn: walkDay, by: "Ivy", walkaboutId: null, note: "taken back on the spot" };
  const [entry] = await store.record({
    drafts: [draftWithdrawal(fact, act)],
    ids: [idOf(1)],
    recordedAt: instantAt(1),
    alongside: {},
    settles: [],
  });
  expect(entry.fact).toMatchObject({ kind: "withdrawn", replaces: idOf(0), plotId: "plot-1", amount: null });
  expect(plotFacts([entry]).map(observationMisfit)).toEqual([null]);
});

test("a write that fails says so and changes nothing, not even the count", async () => {
  const store = memoryStore(deviceId);
  await record(store, 0);
  store.full = true;
  await expect(record(store, 1)).rejects.toThrow("no room");
  store.full = false;
  await record(store, 2);
  expect((await store.entries()).map((entry) => entry.sequence)).toEqual([0, 1]);
});

test("a refused fact is settled by the one written anew, and both stay", async () => {
  const store = memoryStore(deviceId);
  await record(store, 0);
  await store.change([
    { id: idOf(0), state: "refused", refusal: { place: "plotId", found: "plot-1", wanted: "a known plot" } },
  ]);
  await store.record({
    drafts: [lossDraft("plot-2")],
    ids: [idOf(1)],
    recordedAt: instantAt(1),
    alongside: {},
    settles: [idOf(0)],
  });
  const [old, anew] = await store.entries();
  expect(old).toMatchObject({ state: "settled", settledBy: idOf(1) });
  expect(old.refusal).not.toBeNull();
  expect(anew.state).toBe("waiting");
});

test("only an entry that is home can be forgotten", async () => {
  const store = memoryStore(deviceId);
  await record(store, 0);
  await store.forgetHome([idOf(0)]);
  expect(await store.entries()).toHaveLength(1);
  await store.change([{ id: idOf(0), state: "home" }]);
  await store.forgetHome([idOf(0)]);
  expect(await store.entries()).toHaveLength(0);
});

test("a batch stays within its count and its bytes, whatever the notes are written in", async () => {
  const store = memoryStore(deviceId);
  for (let number = 0; number < 40; number++) await record(store, number, "ж".repeat(10_000));
  const facts = (await store.entries()).map((entry) => entry.fact);
  const batch = takeBatch(facts);
  expect(batch.length).toBeGreaterThan(1);
  expect(batchBytes(batch)).toBeLessThanOrEqual(batchLimit.bytes);
  expect(batchBytes(facts.slice(0, batch.length + 1))).toBeGreaterThan(batchLimit.bytes);
  expect(batch).toEqual(facts.slice(0, batch.length));
});

test("a fact that is larger than a batch still goes, alone", async () => {
  const store = memoryStore(deviceId);
  await record(store, 0, "n".repeat(500));
  await record(store, 1);
  const facts = (await store.entries()).map((entry) => entry.fact);
  expect(takeBatch(facts, { facts: 10, bytes: 100 })).toEqual([facts[0]]);
});

test("waits double up to five minutes, and at least half of each is kept", () => {
  expect([1, 2, 3].map((rounds) => retryWaitMs(rounds, 1))).toEqual([4_000, 8_000, 16_000]);
  expect(retryWaitMs(1, 0)).toBe(2_000);
  expect(retryWaitMs(60, 1)).toBe(300_000);
});

test("the count and the age of what is not home include what is to be settled", async () => {
  const store = memoryStore(deviceId);
  await record(store, 0);
  await record(store, 5);
  await record(store, 8);
  await store.change([
    { id: idOf(0), state: "refused", refusal: { place: "a", found: "b", wanted: "c" } },
    { id: idOf(8), state: "home" },
  ]);
  const nowMs = Date.parse(instantAt(10));
  expect(unsent(await store.entries(), { waiting: ["a"], refused: ["b"] }, nowMs)).toEqual({
    waiting: 1,
    toBeSettled: 1,
    pictures: 2,
    oldestMs: 600_000,
  });
  expect(unsent([], { waiting: [], refused: [] }, nowMs)).toEqual({
    waiting: 0,
    toBeSettled: 0,
    pictures: 0,
    oldestMs: null,
  });
});

test("ages are said as a gardener would", () => {
  expect([5_000, 60_000, 7_200_000, 47 * 3_600_000, 72 * 3_600_000].map(sayAge)).toEqual([
    "just now",
    "1 minute",
    "2 hours",
    "47 hours",
    "3 days",
  ]);
});

test("the file of unsent facts holds waiting and refused ones whole, in order", async () => {
  const store = memoryStore(deviceId);
  for (const number of [0, 1, 2]) await record(store, number);
  await store.change([
    { id: idOf(1), state: "home" },
    { id: idOf(0), state: "refused", refusal: { place: "a", found: "b", wanted: "c" } },
  ]);
  const file = unsentFile(await store.entries(), instantAt(30));
  expect(file.facts.map((fact) => fact.id)).toEqual([idOf(0), idOf(2)]);
  expect(observationSchema.safeParse(JSON.parse(JSON.stringify(file)).facts[1]).success).toBe(true);
});

test("the screens fold home's facts and the phone's, each once, and no refused one", async () => {
  const store = memoryStore(deviceId);
  for (const number of [0, 1, 2]) await record(store, number);
  await store.change([
    { id: idOf(0), state: "home" },
    { id: idOf(1), state: "refused", refusal: { place: "a", found: "b", wanted: "c" } },
  ]);
  const entries = await store.entries();
  const facts = allFacts(pack({ facts: plotFacts(entries.slice(0, 1)) }), entries);
  expect(facts.map((fact) => fact.id)).toEqual([idOf(0), idOf(2)]);
});

test("a fact is forgotten only once the pack shows it or its plot is no longer walked", async () => {
  const store = memoryStore(deviceId);
  for (const number of [0, 1]) await record(store, number);
  await store.change([{ id: idOf(0), state: "home" }]);
  const entries = await store.entries();
  expect(seenAtHome(entries, pack())).toEqual([]);
  expect(seenAtHome(entries, pack({ facts: plotFacts(entries) }))).toEqual([idOf(0)]);
  expect(seenAtHome(entries, pack({ beds: [] }))).toEqual([idOf(0)]);
});

test("a pack that is the same, unreadable or out of reach leaves the kept one as it is", async () => {
  const store = memoryStore(deviceId);
  const answer = (status: number, text: string) => async () => ({ status, text, etag: "two" });
  expect(await refreshPack(store, answer(200, JSON.stringify(pack())), instantAt(0))).toBe("new");
  const kept = (await store.kept()).pack;
  expect(await refreshPack(store, answer(304, ""), instantAt(1))).toBe("same");
  expect(await refreshPack(store, answer(200, "<html>"), instantAt(1))).toBe("home cannot answer");
  expect(await refreshPack(store, answer(200, '{"beds":[]}'), instantAt(1))).toBe("home cannot answer");
  expect(await refreshPack(store, answer(401, ""), instantAt(1))).toBe("sign in");
  const gone = async () => {
    throw new TypeError("Failed to fetch");
  };
  expect(await refreshPack(store, gone, instantAt(1))).toBe("no signal");
  expect((await store.kept()).pack).toBe(kept);
});

test("a refusal without its reasons is still a refusal", () => {
  const text = JSON.stringify({
    contract: 2,
    serverTime: instantAt(0),
    replies: [{ id: idOf(1), answer: "refused" }],
  });
  expect(readReply(text)?.replies).toEqual([
    {
      id: idOf(1),
      answer: "refused",
      place: "fact",
      found: "this fact",
      wanted: "a fact that home can take",
    },
  ]);
});
