import fc from "fast-check";
import { zipSync } from "fflate";
import { v7 } from "uuid";
import { beforeAll, describe, expect, it } from "vitest";
import { inOneAct } from "@/db/open";
import { analyseTrial } from "@/lib/analysis/analyse-trial";
import type { TrialRecord } from "@/lib/analysis/trial-record";
import { amendPlot } from "@/lib/service/amend-plot";
import { changeRule } from "@/lib/service/change-rule";
import { checkHouse } from "@/lib/service/check-house";
import { exportTrial, zipExport } from "@/lib/service/export-trial";
import { gardenView } from "@/lib/service/garden-view";
import type { House } from "@/lib/service/house";
import type { ImportAnswer, ImportAsked } from "@/lib/service/import-asked";
import { importTrial } from "@/lib/service/import-trial";
import { recordVerdict } from "@/lib/service/record-verdict";
import { startGarden } from "@/lib/service/start-garden";
import { trialRecord } from "@/lib/service/trial-record";
import { trialVerdicts } from "@/lib/service/trial-verdicts";
import { type TrialView, trialView } from "@/lib/service/trial-view";
import { addDays, type Day } from "@/lib/words/day";
import { loadHazelClough } from "@/seed/hazel-clough";
import { freshHouse, given, houseWithTrial, keptRecord, send, someFact, someGarden } from "./fresh-house";

const asked: ImportAsked = {
  kind: "trial",
  trialId: null,
  mapping: {},
  dayOrder: null,
  skipBlank: false,
  trial: { question: "", crop: "", check: "" },
};
/** Trials as they come: a design, its deal, and what was seen plot by plot. */
const someTrial = fc.record({
  plan: fc.record({
    design: fc.constantFrom("crd", "rcbd"),
    seed: fc.nat(4_000_000),
    blocks: fc.integer({ min: 2, max: 4 }),
    plantsPerPlot: fc.integer({ min: 2, max: 5 }),
  }) as fc.Arbitrary<{ design: "crd" | "rcbd"; seed: number; blocks: number; plantsPerPlot: number }>,
  seen: fc.array(
    fc.record({
      plot: fc.nat(100),
      day: fc.nat(200),
      kind: fc.constantFrom("stand", "loss", "harvest", "filled", "corrected", "note", "score"),
      amount: fc.nat(3),
      words: fc.constantFrom("", "wet", '"quoted", with commas', "=1+1", "two\nlines", "’tis late"),
    }),
    { minLength: 5, maxLength: 40 },
  ),
  rule: fc.option(fc.constantFrom(0.5, 0.65)),
  verdict: fc.boolean(),
});

type Seen = typeof someTrial extends fc.Arbitrary<{ seen: infer Value }> ? Value : never;

function factsOf(trial: TrialView, seen: Seen) {
  const facts: ReturnType<typeof someFact>[] = [];
  for (const { plot, day, kind, amount, words } of seen) {
    const plotId = trial.plots[plot % trial.plots.length].id;
    const shared = { seenOn: addDays("2026-09-21" as Day, day), amount, note: words || null };
    if (kind === "stand") facts.push(someFact(plotId, shared));
    if (kind === "loss") facts.push(someFact(plotId, { ...shared, kind: "loss", cause: "hungry-goose" }));
    if (kind === "harvest")
      facts.push(
        someFact(plotId, { ...shared, kind: "harvest", unit: "g", part: "leaf", amount: amount * 100 }),
      );
    if (kind === "filled")
      facts.push(someFact(plotId, { ...shared, kind: "added", cohortOn: "2026-10-05" as Day }));
    if (kind === "note")
      facts.push(
        someFact(plotId, { ...shared, kind: "note", amount: null, unit: null, note: words || "seen" }),
      );
    if (kind === "score")
      facts.push(someFact(plotId, { ...shared, kind: "score", unit: "score", trait: "vigour" }));
    const last = facts.at(-1);
    if (kind === "corrected" && last)
      facts.push({ ...someFact(last.plotId), ...last, id: v7(), replaces: last.id });
  }
  return facts;
}

const going = { isStopped: () => false };

function fileOf(name: string, content: string | Uint8Array) {
  const bytes = typeof content === "string" ? new TextEncoder().encode(content) : content;
  return { name, chunks: () => [bytes] };
}

function emptyGarden() {
  const house = freshHouse();
  given(startGarden(house, someGarden));
  return house;
}

function take(
  house: House,
  files: Record<string, string | Uint8Array>,
  trial: Partial<ImportAsked["trial"]> = {},
  isWriting = true,
): ImportAnswer {
  const sources = Object.entries(files).map(([name, content]) => fileOf(name, content));
  return importTrial(house, { ...asked, trial: { ...asked.trial, ...trial } }, sources, {
    isWriting,
    steps: going,
  });
}

function zipOf(house: House, trialId: string): Uint8Array {
  const made = exportTrial(house, trialId);
  if (!made) throw new Error("there is no such trial");
  return zipExport(house, made);
}

/** A record with plots by their codes, and without what is the garden's own: ids of plots, devices, walks. */
function byCode(record: TrialRecord | null) {
  if (!record) throw new Error("there is no such trial");
  const codes = new Map(record.plots.map((plot) => [plot.id, plot.code]));
  const code = (id: string) => codes.get(id) ?? "elsewhere";
  return {
    ...record,
    plots: record.plots.map(({ id: _, ...plot }) => plot),
    facts: record.facts.map(
      ({ deviceId: _, deviceSequence: __, walkaboutId: ___, clockSkewS: ____, picture: _____, ...fact }) => ({
        ...fact,
        plotId: code(fact.plotId),
      }),
    ),
    amendments: record.amendments.map((amendment) => ({ ...amendment, plotId: code(amendment.plotId) })),
  };
}

/** Findings with plots by their codes: ids are each garden's own. */
function figures(house: House, trialId: string): unknown {
  const record = trialRecord(house, trialId);
  if (!record) throw new Error("there is no such trial");
  let text = JSON.stringify(analyseTrial(record, { withoutRedealing: true }));
  for (const { id, code } of record.plots) text = text.replaceAll(id, code);
  return JSON.parse(text);
}

function expectSame(told: House, kept: House, trialId: string): void {
  expect(byCode(trialRecord(told, trialId))).toEqual(byCode(trialRecord(kept, trialId)));
  expect(figures(told, trialId)).toEqual(figures(kept, trialId));
  const plan = (house: House) => {
    const view = trialView(house, trialId);
    const { beds, levels, entries, plots, amendments, today: _, ...rest } = view ?? ({} as never);
    return {
      ...rest,
      beds: beds.map(({ id: _id, ...bed }) => bed),
      levels: levels.map(({ id: _id, ...level }) => level),
      entries: entries.map(({ variety, role, packetClaim }) => ({ variety, role, packetClaim })),
      plots: plots.map(({ id: _id, bedId: _bed, entryId: _entry, ...plot }) => plot),
      amendments: amendments.map(({ id: _id, plotId: _plot, ...amendment }) => amendment),
    };
  };
  expect(plan(told)).toEqual(plan(kept));
}

const placesOf = (answer: ImportAnswer) =>
  answer.state === "faulty"
    ? answer.faults.map(({ place, found, wanted }) => `${place} | ${found} | ${wanted}`)
    : [answer.state];

describe("a trial that is taken out and into an empty garden", () => {
  let demo: House;
  beforeAll(() => {
    demo = freshHouse();
    inOneAct(demo.database, () => loadHazelClough(demo));
  });

  it("gives the same record and the same figures to the last digit, every trial of the demo", () => {
    const trials = gardenView(demo).trials;
    expect(trials.length).toBeGreaterThan(5);
    const house = emptyGarden();
    for (const { id } of trials) {
      const zip = zipOf(demo, id);
      expect(take(house, { "trial.zip": zip })).toMatchObject({ state: "done", trialId: id });
      expectSame(house, demo, id);
    }
    expect(checkHouse(house).wrong).toEqual([]);
    const before = keptRecord(house.database);
    for (const { id } of trials) {
      const again = take(house, { "trial.zip": zipOf(demo, id) });
      expect(again).toMatchObject({ state: "done", added: 0 });
    }
    expect(keptRecord(house.database)).toEqual(before);
  });

  it("keeps the side that the path runs on, and a row of pots", () => {
    const beds = [{ name: "Pot row", widthMm: 300, lengthMm: 6_000, potMm: 300 }];
    for (const changes of [{ pathSide: "right" as const }, { beds, plantsPerPlot: 1 }]) {
      const { house, trialId } = houseWithTrial(changes);
      const other = emptyGarden();
      expect(take(other, { "trial.zip": zipOf(house, trialId) })).toMatchObject({ state: "done" });
      const lies = (of: House) => {
        const trial = trialView(of, trialId);
        return [trial?.pathSide, trial?.beds.map(({ name, potMm }) => [name, potMm])];
      };
      expect(lies(other)).toEqual(lies(house));
    }
  });

  it("keeps corrections, fillings, amendments, changed rules and verdicts, whatever was dealt and seen", () => {
    fc.assert(
      fc.property(someTrial, ({ plan, seen, rule, verdict }) => {
        const { house, trialId, trial } = houseWithTrial(plan);
        send(house, factsOf(trial, seen));
        const { id: plotId } = trial.plots[0];
        const by = "Ina";
        given(
          amendPlot(house, {
            trialId,
            plotId,
            kind: "excluded",
            fromOn: "2026-11-25",
            reason: "=Trodden",
            by,
          }),
        );
        if (rule !== null)
          given(
            changeRule(house, trialId, {
              survivalFloor: rule,
              yieldFloor: null,
              sureness: 0.9,
              qualities: [],
              reason: "It was too strict.",
            }),
          );
        if (verdict)
          given(
            recordVerdict(house, {
              trialId,
              entryId: trial.entries[1].id,
              choice: "drop",
              reason: "Tender.",
              by,
            }),
          );
        const other = emptyGarden();
        expect(take(other, { "trial.zip": zipOf(house, trialId) })).toMatchObject({ state: "done" });
        expectSame(other, house, trialId);
        const verdicts = (of: House) =>
          trialVerdicts(of, trialId).map(({ variety, choice, reason, by, decidedAt, use }) => ({
            variety,
            choice,
            reason,
            by,
            decidedAt,
            use,
          }));
        expect(verdicts(other)).toEqual(verdicts(house));
        expect(exportTrial(other, trialId)?.files["observations.csv"]).toBe(
          exportTrial(house, trialId)?.files["observations.csv"],
        );
      }),
      { seed: 20261125, numRuns: 12 },
    );
  });
});

describe("plots and observations alone", () => {
  const plots = [
    "plot;variety;block;planted_on;plants;area_m2;cover;Soil",
    "A1;Pennick;north;2026-09-20;6;0,54;Long net;heavy",
    "A2;Hollin;north;2026-09-20;6;0,54;Long net;",
    "B1;Hollin;south;2026-09-20;6;0,54;Long net;",
    "B2;Pennick;south;2026-09-20;6;0,54;Long net;",
  ].join("\n");
  const observations = [
    "seen_on;plot;kind;cause;amount;part;unit",
    "2026-10-11;A1;loss;slugs;1;;",
    "2027-03-20;A1;stand;;4;;",
    "2027-03-20;A2;stand;;6;;",
    "2027-03-20;B1;stand;;5;;",
    "2027-03-20;B2;stand;;3;;",
    "2027-04-01;A1;harvest;;1,25;leaf;kg",
  ].join("\n");
  const files = { "my folder/plots.csv": plots, "observations.csv": observations };
  const details = { question: "Which mustard stands the winter?", crop: "mustard greens", check: "Pennick" };

  it("make a trial, and the same files make none again", () => {
    const house = emptyGarden();
    const tried = take(house, files, details, false);
    expect(tried).toMatchObject({ state: "ready", rows: 10, added: 10 });
    expect(gardenView(house).trials).toEqual([]);
    const taken = take(house, files, details);
    expect(taken).toMatchObject({
      state: "done",
      said: expect.arrayContaining([expect.stringContaining("Soil")]),
    });
    const [trial] = gardenView(house).trials;
    const record = trialRecord(house, trial.id);
    expect(record).toMatchObject({ design: "rcbd", check: "Pennick", varieties: ["Pennick", "Hollin"] });
    expect(record?.plots[2]).toMatchObject({ code: "B1", block: "2", cover: "Long net", areaM2: 0.54 });
    expect(record?.facts.map((fact) => [fact.kind, fact.amount])).toContainEqual(["harvest", 1250]);
    expect(take(house, files, details)).toMatchObject({ state: "done", added: 0, already: 10 });
    expect(checkHouse(house).wrong).toEqual([]);
  });

  it("ask for the question and the crop, and take a mended file", () => {
    const house = emptyGarden();
    expect(placesOf(take(house, files))).toEqual([
      "question | nothing | the question that the trial answers",
      "crop | nothing | the crop’s name",
    ]);
    const spoilt = {
      ...files,
      "observations.csv": `${observations}\n2027-04-31;A1;loss;;2;;\n2027-04-30;C9;eaten;;;;`,
    };
    expect(placesOf(take(house, spoilt, details)).map((fault) => fault.split(" | ")[0])).toEqual([
      "observations.csv:8:seen_on",
      "observations.csv:9:plot",
      "observations.csv:9:kind",
    ]);
    expect(gardenView(house).trials).toEqual([]);
    expect(house.database.$client.prepare("SELECT count(*) FROM bed").pluck().get()).toBe(0);
    expect(take(house, files, details)).toMatchObject({ state: "done" });
  });

  it("are refused where they tell no trial", () => {
    const house = emptyGarden();
    const first = (answer: ImportAnswer) => placesOf(answer)[0];
    expect(first(take(house, {}))).toBe("file | no plots | plots.csv, alone or with what belongs to it");
    expect(first(take(house, { "plots.csv": "variety\nPennick\n" }))).toContain("no two columns");
    expect(first(take(house, { "plots.csv": "plot,variety\nA1,Pennick\n" }, details))).toContain(
      "two varieties",
    );
    const twoCovers = plots.replace("6;0,54;Long net;heavy", "6;0,54;Fleece;heavy");
    expect(first(take(house, { "plots.csv": twoCovers }, details))).toContain("the same for the whole trial");
    const way = zipSync({ "../../plots.csv": new TextEncoder().encode(plots) });
    expect(first(take(house, { "trial.zip": way }, details))).toContain("names within the zip only");
    expect(first(take(house, { "trial.zip": way.subarray(0, 60) }, details))).toMatch(/zip/);
  });
});
