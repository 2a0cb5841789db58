import fc from "fast-check";
import { expect, test } from "vitest";
import { inForce } from "@/lib/journal/in-force";
import { standAt } from "@/lib/journal/stand-at";
import { type Batch, contractVersion, type FactReply } from "@/lib/sync/contract";
import { type Draft, draftBedFact } from "@/lib/sync/device/fact-draft";
import { sendPictures } from "@/lib/sync/device/send-pictures";
import { sendRound } from "@/lib/sync/device/send-round";
import { type Fact, isBedFact } from "@/lib/words/bed-fact";
import type { Observation } from "@/lib/words/observation";
import { plantedOn, plot } from "../unit/sync/example-bed";
import { idOf, instantAt, lossDraft, walkDay } from "../unit/sync/facts";
import { memoryStore } from "../unit/sync/memory-store";

const seed = 20270114;

/** What may become of one sending on its way out and back. */
const weather = fc.record({
  fate: fc.constantFrom("well", "well", "lost before", "lost after", "down", "half a body", "later"),
  delivery: fc.constantFrom("as sent", "reversed", "twice", "in two halves"),
});

const draft = fc.record({
  kind: fc.constantFrom("loss", "loss", "stand", "bed", "poison"),
  plot: fc.constantFrom("plot-1", "plot-2"),
  amount: fc.nat(3),
});

function draftOf({ kind, plot, amount }: { kind: string; plot: string; amount: number }): Draft {
  if (kind === "bed")
    return draftBedFact({ bedId: "bed", kind: "treatment", what: "watered", seenOn: walkDay, by: "Ivy" });
  if (kind === "poison") return lossDraft("a plot that is gone", { amount });
  return kind === "loss"
    ? lossDraft(plot, { amount })
    : lossDraft(plot, { kind: "stand", cause: null, amount });
}

/** Home in small: it keeps each id once, refuses what is poisoned, and answers for each id. */
function smallHome() {
  const kept = new Map<string, Fact>();
  const take = (fact: Fact): FactReply => {
    const { id } = fact;
    if (!isBedFact(fact) && fact.plotId === "a plot that is gone")
      return { id, answer: "refused", place: "plotId", found: fact.plotId, wanted: "a plot of this garden" };
    const known = kept.get(id);
    if (known && JSON.stringify(known) !== JSON.stringify(fact)) throw new Error(`two facts under ${id}`);
    kept.set(id, fact);
    return { id, answer: known ? "already" : "recorded" };
  };
  return { kept, take };
}

/** What the record says in the end, whatever came in which order. */
function told(facts: Fact[]) {
  const ofPlots = facts.filter((fact): fact is Observation => !isBedFact(fact));
  return {
    ids: facts.map((fact) => fact.id).sort(),
    stands: [1, 2].map((number) => standAt({ ...plot(number), plantedOn }, inForce(ofPlots), null)),
    beds: inForce(facts.filter(isBedFact)),
  };
}

test("10,000 runs of two phones with two tabs each over a bad network end in one same record", async () => {
  const phone = fc.array(draft, { minLength: 1, maxLength: 5 });
  await fc.assert(
    fc.asyncProperty(fc.tuple(phone, phone), fc.array(weather, { maxLength: 8 }), async (plans, skies) => {
      const home = smallHome();
      const queue = [...skies];
      const post = async ({ facts }: Batch) => {
        const { fate, delivery } = queue.shift() ?? { fate: "well", delivery: "as sent" };
        if (fate === "lost before") throw new TypeError("Failed to fetch");
        if (fate === "down") return { status: 502, text: "Bad gateway" };
        const middle = Math.ceil(facts.length / 2);
        const arriving = {
          "as sent": facts,
          reversed: facts.toReversed(),
          twice: [...facts, ...facts],
          "in two halves": [...facts.slice(middle), ...facts.slice(0, middle)],
        }[delivery as "as sent"];
        const replies = arriving.map(
          (fact): FactReply =>
            fate === "later" ? { id: fact.id, answer: "later", why: "busy" } : home.take(fact),
        );
        if (fate === "lost after") throw new TypeError("Failed to fetch");
        const text = JSON.stringify({ contract: contractVersion, serverTime: instantAt(0), replies });
        return { status: 200, text: fate === "half a body" ? text.slice(0, -7) : text };
      };
      const stores = plans.map((_, index) => memoryStore(idOf(900_000 + index)));
      const all: Fact[] = [];
      for (const [index, plan] of plans.entries())
        for (const [number, one] of plan.entries()) {
          const ids = [idOf(1_000 * index + number)];
          const recordedAt = instantAt(number);
          const drafts = [draftOf(one)];
          const [entry] = await stores[index].record({
            drafts,
            ids,
            recordedAt,
            alongside: {},
            settles: [],
          });
          all.push(entry.fact);
        }
      for (let round = 0; round < 20; round += 1) {
        // Two tabs of each phone at once: without Web Locks nothing keeps them apart.
        await Promise.all(stores.flatMap((store) => [sendRound(store, post), sendRound(store, post)]));
        const left = (await Promise.all(stores.map((store) => store.entries()))).flat();
        if (left.every((entry) => entry.state !== "waiting")) break;
      }
      const poisoned = (fact: Fact) => !isBedFact(fact) && fact.plotId === "a plot that is gone";
      expect(told([...home.kept.values()])).toEqual(told(all.filter((fact) => !poisoned(fact))));
      const entries = (await Promise.all(stores.map((store) => store.entries()))).flat();
      expect(entries.map((entry) => entry.state)).toEqual(
        entries.map((entry) => (poisoned(entry.fact) ? "refused" : "home")),
      );
    }),
    { seed, numRuns: 10_000 },
  );
}, 120_000);

test("storage that fills up on the fifth write keeps the four before it, says so, and goes on once there is room", async () => {
  const store = memoryStore(idOf(900_000));
  const write = (number: number) =>
    store.record({
      drafts: [lossDraft("plot-1")],
      ids: [idOf(number)],
      recordedAt: instantAt(number),
      alongside: { recentCauses: [`cause ${number}`] },
      settles: [],
    });
  for (const number of [0, 1, 2, 3]) await write(number);
  store.full = true;
  await expect(write(4)).rejects.toThrow("no room");
  expect((await store.entries()).map((entry) => entry.sequence)).toEqual([0, 1, 2, 3]);
  expect((await store.kept()).recentCauses).toEqual(["cause 3"]);
  store.full = false;
  await write(5);
  // The number of the write that failed was never given away.
  expect((await store.entries()).map((entry) => entry.sequence)).toEqual([0, 1, 2, 3, 4]);
});

test("5,000 facts that wait go home in fifty sendings, each once", async () => {
  const store = memoryStore(idOf(900_000));
  const count = 5_000;
  await store.record({
    drafts: Array.from({ length: count }, () => lossDraft("plot-1")),
    ids: Array.from({ length: count }, (_, number) => idOf(number)),
    recordedAt: instantAt(0),
    alongside: {},
    settles: [],
  });
  const home = smallHome();
  let sendings = 0;
  const round = await sendRound(store, async ({ facts }) => {
    sendings += 1;
    const text = JSON.stringify({
      contract: contractVersion,
      serverTime: instantAt(0),
      replies: facts.map(home.take),
    });
    return { status: 200, text };
  });
  expect([round.home, sendings, home.kept.size]).toEqual([count, 50, count]);
});

test("an old home answers a new phone later, and not a fact is lost until it is updated", async () => {
  const store = memoryStore(idOf(900_000));
  await store.record({
    drafts: [lossDraft("plot-1"), draftOf({ kind: "bed", plot: "", amount: 0 })],
    ids: [idOf(0), idOf(1)],
    recordedAt: instantAt(0),
    clockSkewS: 12,
    alongside: {},
    settles: [],
  });
  const answer =
    (version: number) =>
    async ({ contract, facts }: Batch) => {
      const replies = facts.map(
        ({ id }): FactReply =>
          contract > version ? { id, answer: "later", why: "update it" } : { id, answer: "recorded" },
      );
      return { status: 200, text: JSON.stringify({ contract: version, serverTime: instantAt(0), replies }) };
    };
  expect(await sendRound(store, answer(contractVersion - 1))).toMatchObject({
    home: 0,
    trouble: "home says later",
    why: "update it",
  });
  expect(await sendRound(store, answer(contractVersion))).toMatchObject({ home: 2, trouble: null });
});

test("pictures wait for a signal, one that home refuses stays and stops no other, and none is let go without an answer", async () => {
  const store = memoryStore(idOf(900_000));
  const names = ["a", "b", "c"].map((letter) => letter.repeat(64));
  await store.record({
    drafts: names.map((picture) => ({
      ...lossDraft("plot-1", { kind: "note", note: "a picture" }),
      picture,
    })),
    ids: names.map((_, number) => idOf(number)),
    recordedAt: instantAt(0),
    pictures: names.map((sha256) => ({ sha256, bytes: new ArrayBuffer(4) })),
    alongside: {},
    settles: [],
  });
  const gone = async () => {
    throw new TypeError("Failed to fetch");
  };
  expect(await sendPictures(store, gone)).toBe("no signal");
  expect(await sendPictures(store, async () => ({ status: 401 }))).toBe("sign in");
  expect(await sendPictures(store, async () => ({ status: 500 }))).toBe("home cannot answer");
  expect(await store.pictures()).toEqual({ waiting: names, refused: [] });
  const picky = async (sha256: string) => ({ status: sha256 === names[1] ? 400 : 200 });
  expect(await sendPictures(store, picky)).toBe(null);
  expect(await store.pictures()).toEqual({ waiting: [], refused: [names[1]] });
  expect((await store.pictureBytes(names[1]))?.byteLength).toBe(4);
});
