import { copyFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { expect, it } from "vitest";
import { POST as postObservations } from "@/app/api/observations/route";
import { closeDatabase, openDatabase } from "@/db/open";
import { checkHouse } from "@/lib/service/check-house";
import { type House, shareHouse } from "@/lib/service/house";
import { type BatchReply, contractVersion, type FactReply } from "@/lib/sync/contract";
import type { Fact } from "@/lib/words/bed-fact";
import type { Day } from "@/lib/words/day";
import type { Observation } from "@/lib/words/observation";
import { houseWithTrial, keptRecord, someBedFact, someFact } from "./fresh-house";

const seed = 20261125;
const runs = 200;
const days = ["2026-09-20", "2026-10-04", "2026-10-11", "2026-11-25", "2027-03-20"] as Day[];
const devices = ["0193a1b2-0000-7000-8000-00000000000a", "0193a1b2-0000-7000-8000-00000000000b"];

function idOf(index: number): string {
  return `0193a1b2-1111-7000-8000-${String(index).padStart(12, "0")}`;
}

const kinds = fc.constantFrom<Partial<Observation>>(
  { kind: "stand" },
  { kind: "stand" },
  { kind: "loss", cause: "slugs" },
  { kind: "loss", cause: "cold" },
  { kind: "loss", cause: "a cause of our own" },
  { kind: "removed", cause: "cut" },
  { kind: "removed", cause: "a cause of our own" },
  { kind: "added" },
  { kind: "regrew" },
  { kind: "doubtful" },
  { kind: "not-seen", amount: null, unit: null },
  { kind: "note", amount: null, unit: null, note: "wet" },
  { kind: "ended", amount: null, unit: null },
  { kind: "harvest", unit: "g", part: "leaf" },
  { kind: "harvest", unit: "g", part: "leaf", amount: null },
  { kind: "withdrawn", amount: null, unit: null, note: "a slip" },
);

/** In the place of a fourth plot stands the bed itself. */
const ofTheBed = 3;

/** Facts of three plots and their bed by two phones; about a third correct another fact, one still to come, or one that never comes. */
const someFacts = fc
  .array(
    fc.record({
      change: kinds,
      plot: fc.nat(ofTheBed),
      amount: fc.nat(5),
      day: fc.constantFrom(...days),
      device: fc.constantFrom(...devices),
      cohortOn: fc.constantFrom(null, null, null, days[0], days[2]),
      replaces: fc.option(fc.nat(15), { freq: 3 }),
    }),
    { minLength: 1, maxLength: 14 },
  )
  .map(
    (drafts) => (plotIds: string[], bedId: string) =>
      drafts.map(({ change, plot, amount, day, device, cohortOn, replaces }, index): Fact => {
        const common = { id: idOf(index), deviceId: device, deviceSequence: index, seenOn: day };
        if (plot === ofTheBed)
          return someBedFact(bedId, {
            ...common,
            clockSkewS: amount,
            replaces: replaces === null ? null : idOf(replaces),
          });
        return someFact(plotIds[plot], {
          ...common,
          amount,
          cohortOn,
          replaces: replaces === null && change.kind !== "withdrawn" ? null : idOf(replaces ?? 15),
          ...change,
        });
      }),
  );

/** A sending of so many facts: which go in which order (each at least once, some again), and in batches of what size. */
function sendings(count: number) {
  const each = Array.from({ length: count }, (_, index) => index);
  return fc.record({
    order: fc
      .array(fc.nat(count - 1), { maxLength: count })
      .chain((again) => fc.shuffledSubarray([...each, ...again], { minLength: count + again.length })),
    batch: fc.integer({ min: 1, max: count }),
  });
}

it("any order, repetition and cutting of the same facts, 200 times by the real route, ends in the same record", async () => {
  const { house: base, trial } = houseWithTrial();
  const plotIds = trial.plots.slice(0, 3).map((plot) => plot.id);
  base.database.$client.pragma("wal_checkpoint(TRUNCATE)");
  const baseFile = join(base.dataFolder, "garden.sqlite");

  const bedId = trial.beds[0].id;

  async function post(facts: Fact[]): Promise<FactReply[]> {
    const body = JSON.stringify({ contract: contractVersion, facts });
    const request = new Request("http://127.0.0.1:3000/api/observations", { method: "POST", body });
    return ((await (await postObservations(request)).json()) as BatchReply).replies;
  }

  async function recordAfter(name: string, batches: Fact[][]): Promise<unknown> {
    const file = join(base.dataFolder, name);
    copyFileSync(baseFile, file);
    const database = openDatabase(file);
    // What survives a power cut is another test's matter; this one writes a great deal.
    database.$client.pragma("synchronous = OFF");
    const house: House = { ...base, database };
    shareHouse(house);
    try {
      const answers: string[] = [];
      for (const batch of batches) answers.push(...(await post(batch)).map((reply) => reply.answer));
      expect(answers.filter((answer) => answer !== "recorded" && answer !== "already")).toEqual([]);
      expect(checkHouse(house).wrong).toEqual([]);
      return keptRecord(database);
    } finally {
      closeDatabase(database);
    }
  }

  const cases = someFacts.chain((make) => {
    const facts = make(plotIds, bedId);
    return sendings(facts.length).map((sending) => ({ facts, ...sending }));
  });
  await fc.assert(
    fc.asyncProperty(cases, async ({ facts, order, batch }) => {
      const sent = order.map((index) => facts[index]);
      const batches = [];
      for (let start = 0; start < sent.length; start += batch) batches.push(sent.slice(start, start + batch));
      const anotherWay = await recordAfter("another-way.sqlite", batches);
      expect(anotherWay).toEqual(await recordAfter("one-way.sqlite", [facts]));
    }),
    { seed, numRuns: runs },
  );
});
