import fc from "fast-check";
import { expect, test } from "vitest";
import { type Batch, batchLimit, type FactReply } from "@/lib/sync/contract";
import { sendRound } from "@/lib/sync/device/send-round";
import type { Fact } from "@/lib/words/bed-fact";
import { idOf, instantAt, lossDraft } from "./facts";
import { memoryStore } from "./memory-store";

const deviceId = idOf(999_999);

async function phoneWith(count: number) {
  const store = memoryStore(deviceId);
  for (let number = 0; number < count; number++)
    await store.record({
      drafts: [lossDraft(`plot-${number}`)],
      ids: [idOf(number)],
      recordedAt: instantAt(number),
      alongside: {},
      settles: [],
    });
  return store;
}

function answers(batch: Batch, answer: (fact: Fact) => FactReply) {
  const replies = batch.facts.map(answer);
  return { status: 200, text: JSON.stringify({ contract: 1, serverTime: instantAt(0), replies }) };
}

const states = async (store: Awaited<ReturnType<typeof phoneWith>>) =>
  (await store.entries()).map((entry) => entry.state);

test("sends oldest first, at most a hundred at a time, and marks as home what home recorded or had already", async () => {
  const store = await phoneWith(230);
  const batches: number[][] = [];
  const round = await sendRound(store, async (batch) => {
    batches.push(batch.facts.map((fact) => fact.deviceSequence));
    return answers(batch, ({ id, deviceSequence }) => ({
      id,
      answer: deviceSequence % 2 ? "recorded" : "already",
    }));
  });
  expect(batches.map((batch) => batch.length)).toEqual([100, 100, 30]);
  expect(batches.flat()).toEqual(Array.from({ length: 230 }, (_, index) => index));
  expect(round).toMatchObject({ home: 230, refused: 0, trouble: null });
  expect(new Set(await states(store))).toEqual(new Set(["home"]));
});

test("keeps everything when there is no network", async () => {
  const store = await phoneWith(3);
  const round = await sendRound(store, async () => {
    throw new TypeError("Failed to fetch");
  });
  expect(round.trouble).toBe("no signal");
  expect(await states(store)).toEqual(["waiting", "waiting", "waiting"]);
});

test("a missing session is later: nothing is dropped, and it asks for signing in", async () => {
  const store = await phoneWith(2);
  const round = await sendRound(store, async () => ({ status: 401, text: "" }));
  expect(round.trouble).toBe("sign in");
  expect(await states(store)).toEqual(["waiting", "waiting"]);
});

test("a reply that cannot be read moves nothing, even with status 200", async () => {
  for (const text of [
    "<html>Sign in to the café's network</html>",
    '{"contract":1,"replies":[{"id":',
    "",
    "[]",
  ]) {
    const store = await phoneWith(2);
    const round = await sendRound(store, async () => ({ status: 200, text }));
    expect(round.trouble).toBe("home cannot answer");
    expect(await states(store)).toEqual(["waiting", "waiting"]);
  }
});

test("an answer for another id, or of an unknown kind, moves nothing", async () => {
  const store = await phoneWith(2);
  await sendRound(store, async () => ({
    status: 200,
    text: JSON.stringify({
      contract: 1,
      serverTime: instantAt(0),
      replies: [
        { id: idOf(77), answer: "recorded" },
        { id: idOf(0), answer: "pondered" },
      ],
    }),
  }));
  expect(await states(store)).toEqual(["waiting", "waiting"]);
});

test("a refused fact goes to what is to be settled with its reason, and the others go home", async () => {
  const store = await phoneWith(5);
  const round = await sendRound(store, async (batch) =>
    answers(batch, ({ id, deviceSequence }) =>
      deviceSequence === 2
        ? { id, answer: "refused", place: "plotId", found: "plot-2", wanted: "a plot of this garden" }
        : { id, answer: "recorded" },
    ),
  );
  expect(round).toMatchObject({ home: 4, refused: 1, trouble: null });
  expect(await states(store)).toEqual(["home", "home", "refused", "home", "home"]);
  expect((await store.entries())[2].refusal).toEqual({
    place: "plotId",
    found: "plot-2",
    wanted: "a plot of this garden",
  });
});

test("one fact that home stumbles over as a whole batch does not hold up the other ninety-nine", async () => {
  const store = await phoneWith(100);
  const round = await sendRound(store, async (batch) =>
    batch.facts.some((fact) => fact.deviceSequence === 41)
      ? { status: 500, text: "" }
      : answers(batch, ({ id }) => ({ id, answer: "recorded" })),
  );
  expect(round.home).toBe(99);
  expect(round.trouble).toBe("home cannot answer");
  expect(
    (await store.entries()).filter((entry) => entry.state === "waiting").map((entry) => entry.sequence),
  ).toEqual([41]);
});

test("a home that is down is not asked for ever", async () => {
  const store = await phoneWith(500);
  let posts = 0;
  const round = await sendRound(store, async () => {
    posts += 1;
    return { status: 500, text: "" };
  });
  expect(posts).toBeLessThanOrEqual(12);
  expect(round.trouble).toBe("home cannot answer");
  expect(new Set(await states(store))).toEqual(new Set(["waiting"]));
});

test("facts answered later are kept and do not stop the ones behind them", async () => {
  const store = await phoneWith(150);
  const round = await sendRound(store, async (batch) =>
    answers(batch, ({ id, deviceSequence }) =>
      deviceSequence < 100 ? { id, answer: "later", why: "update" } : { id, answer: "recorded" },
    ),
  );
  expect(round).toMatchObject({ home: 50, trouble: "home says later", why: "update" });
});

test("a fact made while a batch is under way goes with the next one", async () => {
  const store = await phoneWith(1);
  let posts = 0;
  await sendRound(store, async (batch) => {
    posts += 1;
    if (posts === 1)
      await store.record({
        drafts: [lossDraft("late")],
        ids: [idOf(500)],
        recordedAt: instantAt(9),
        alongside: {},
        settles: [],
      });
    return answers(batch, ({ id }) => ({ id, answer: "recorded" }));
  });
  expect(await states(store)).toEqual(["home", "home"]);
});

test("whatever the network does, home ends with every fact once and the phone with none waiting", async () => {
  const weather = fc.constantFrom(
    "well",
    "well",
    "lost before",
    "lost after",
    "down",
    "half a body",
    "later",
  );
  await fc.assert(
    fc.asyncProperty(
      fc.integer({ min: 1, max: 260 }),
      fc.array(weather, { maxLength: 40 }),
      async (count, skies) => {
        const store = await phoneWith(count);
        const home = new Map<string, number>();
        const queue = [...skies];
        for (let round = 0; round < 60; round++) {
          await sendRound(store, async (batch) => {
            expect(batch.facts.length).toBeLessThanOrEqual(batchLimit.facts);
            const sky = queue.shift() ?? "well";
            if (sky === "lost before") throw new TypeError("Failed to fetch");
            if (sky === "down") return { status: 502, text: "Bad gateway" };
            const reply = answers(batch, ({ id }) => {
              if (sky === "later") return { id, answer: "later", why: "busy" };
              const already = home.has(id);
              home.set(id, (home.get(id) ?? 0) + (already ? 0 : 1));
              return { id, answer: already ? "already" : "recorded" };
            });
            if (sky === "lost after") throw new TypeError("Failed to fetch");
            return sky === "half a body" ? { ...reply, text: reply.text.slice(0, -9) } : reply;
          });
          for (const entry of await store.entries())
            if (entry.state === "home") expect(home.get(entry.id)).toBe(1);
          if ((await states(store)).every((state) => state === "home")) break;
        }
        expect(home.size).toBe(count);
        expect(new Set(await states(store))).toEqual(new Set(["home"]));
      },
    ),
    { seed: 20270114, numRuns: 120 },
  );
});
