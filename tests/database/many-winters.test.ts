import { beforeAll, describe, expect, it, vi } from "vitest";
import { inOneAct } from "@/db/open";
import { sayUse } from "@/lib/report/sentence-for-winters";
import { createTrial } from "@/lib/service/create-trial";
import { gardenView } from "@/lib/service/garden-view";
import { recordVerdict } from "@/lib/service/record-verdict";
import { seasonView } from "@/lib/service/season-view";
import { startGarden } from "@/lib/service/start-garden";
import { beginAnswers, keptTrialAnswer, trialAnswer } from "@/lib/service/trial-answer";
import { trialFindings } from "@/lib/service/trial-findings";
import { varietyList, varietyProofs } from "@/lib/service/variety-list";
import { type VarietyView, varietyView } from "@/lib/service/variety-view";
import type { Day } from "@/lib/words/day";
import type { TrialPlan } from "@/lib/words/trial-plan";
import { loadHazelClough } from "@/seed/hazel-clough";
import { freshHouse, given, houseWithTrial, send, someFact, someGarden, somePlan } from "./fresh-house";

vi.mock("node:worker_threads", async (original) => {
  const { workersByTsx } = await import("./workers-by-tsx");
  return workersByTsx(await original());
});

/** One garden for all tests of the demo: none of them writes, and the file is closed after the first. */
async function loadedOnce() {
  const house = freshHouse();
  inOneAct(house.database, () => loadHazelClough(house));
  const looked = ["Hollin", "Carrow", "Tansy Mill", "Fellbeck", "Cold Keld", "Copper Beck"];
  const varieties = varietyList(house)
    .flatMap((crop) => crop.varieties)
    .filter((variety) => looked.includes(variety.name));
  const views = new Map<string, VarietyView>();
  for (const { id, name } of varieties) views.set(name, (await varietyView(house, id)) as VarietyView);
  const hollin = views.get("Hollin")?.winters[0].value.lines[0].trial.trialId ?? "";
  return {
    varieties,
    views,
    proved: await varietyProofs(house, varieties),
    none: await varietyView(house, "no such variety"),
    seasons: seasonView(house, null),
    garden: gardenView(house),
    survival: trialFindings(house, hollin)?.survival,
  };
}

let demo: Awaited<ReturnType<typeof loadedOnce>>;
beforeAll(async () => {
  demo = await loadedOnce();
});

describe("a variety of the demo over its winters", () => {
  it("has one winter that counts, with the trial's own figure, and one that is still to be decided", () => {
    const hollin = demo.views.get("Hollin");
    expect(hollin?.winters).toHaveLength(1);
    const [{ value, plants, plots, cautions }] = hollin?.winters ?? [];
    expect(value.lines.map(({ trial, state }) => [trial.season, state])).toEqual([
      ["2025/26", "counts"],
      ["2026/27", "so far"],
    ]);
    const own = demo.survival?.value.varieties.find((one) => one.variety === "Hollin");
    expect(value.proof.share).toEqual({ estimate: own?.estimate, low: own?.low, high: own?.high });
    expect([plants, plots]).toEqual([(own?.plants ?? 0) - (own?.censored ?? 0), own?.plots]);
    expect(value.kind.coverKinds).toEqual(["insect netting", "low tunnel"]);
    expect(value.lines[0].tested).toBe(true);
    expect(cautions.map((caution) => caution.code)).toEqual(["one-winter"]);
  });

  it("has two winters set together where two are over, and allows another winter more than a typical one", () => {
    const [{ value }] = demo.views.get("Copper Beck")?.winters ?? [];
    expect(value.lines.map(({ trial, state }) => [trial.season, state])).toEqual([
      ["2024/25", "counts"],
      ["2025/26", "counts"],
    ]);
    const { typical, another } = value.survival?.pooled ?? {};
    expect(another?.low).toBeLessThan(typical?.low ?? 0);
    expect(another?.high).toBeGreaterThan(typical?.high ?? 1);
  });

  it("has its verdicts by use, and its stems after the day that decided", () => {
    const carrow = demo.views.get("Carrow");
    expect(carrow?.verdicts).toMatchObject([
      {
        use: { purpose: "base of a winter mix", covers: [["insect netting", "low tunnel"]] },
        verdicts: [{ choice: "grow again", by: "Ina" }],
      },
    ]);
    const tansyMill = demo.views.get("Tansy Mill");
    const first = tansyMill?.trials.find(({ plantedOn }) => plantedOn === "2025-09-20")?.told?.bolting;
    expect(first?.plotsBolted).toBeGreaterThan(0);
  });

  it("says the same in the list as on its page, and nothing where there was no trial to judge by", () => {
    for (const { id, name } of demo.varieties)
      expect(demo.proved.get(id)).toEqual(demo.views.get(name)?.winters.map(({ value }) => value.proof));
    const fellbeck = demo.views.get("Fellbeck");
    expect(fellbeck?.winters[0]?.value).toMatchObject({ survival: null, lines: [{ state: "not planted" }] });
  });

  it("is null where there is none of that id", () => {
    expect(demo.none).toBeNull();
  });
});

describe("the season's overview", () => {
  it("has the newest season first, every trial in it, and as many verdicts owed as the garden's view", () => {
    const seasons = demo.seasons;
    expect(seasons.map(({ season }) => season)).toEqual(["2026/27", "2025/26", "2024/25"]);
    const { trials } = demo.garden;
    const shown = seasons.flatMap((season) => season.shown ?? []);
    expect(
      shown.map(({ id, state, nextAssessment, verdictsOwed, bedNames }) => [
        id,
        state,
        nextAssessment,
        verdictsOwed,
        bedNames,
      ]),
    ).toEqual(
      trials.map(({ id, state, nextAssessment, verdictsOwed, bedNames }) => [
        id,
        state,
        nextAssessment,
        verdictsOwed,
        bedNames,
      ]),
    );
    expect(seasons.reduce((sum, season) => sum + season.verdictsOwed, 0)).toBe(
      trials.reduce((sum, trial) => sum + trial.verdictsOwed, 0),
    );
  });

  it("tells the last verdict on each variety", () => {
    const shown = demo.seasons.flatMap((season) => season.shown ?? []);
    const mustard = shown.find(({ plantedOn }) => plantedOn === "2025-09-20");
    expect(mustard?.verdicts).toEqual([
      { variety: "Hollin", choice: "try once more" },
      { variety: "Carrow", choice: "grow again" },
    ]);
  });
});

describe("many seasons", () => {
  it("are folded past the newest ones, and each is one question away", () => {
    const house = freshHouse();
    given(startGarden(house, someGarden));
    const years = Array.from({ length: 23 }, (_, place) => 2000 + place);
    for (const year of years) {
      const on = (monthDay: string, later = 0) => `${year + later}-${monthDay}`;
      given(
        createTrial(
          house,
          somePlan({
            covers: [],
            sownOn: on("08-20"),
            plantedOn: on("09-20"),
            assessments: [
              { name: "took", dueOn: on("10-11") },
              { name: "regrowth", dueOn: on("03-20", 1) },
            ],
            clearBy: on("05-01", 1),
          }),
        ),
      );
    }
    const seasons = seasonView(house, null);
    expect(seasons).toHaveLength(23);
    expect(seasons.map(({ shown }) => shown?.length ?? 0)).toEqual([...Array(20).fill(1), 0, 0, 0]);
    expect(seasons[22]).toMatchObject({ season: "2000/01", trials: 1, verdictsOwed: 1, shown: null });
    expect(seasonView(house, "2000/01")[22].shown).toHaveLength(1);
    expect(seasonView(house, "no season")).toEqual(seasons);
  });
});

describe("a trial's kept answer", () => {
  it("is there for every trial some time after the first page, unasked for", async () => {
    const { house, trialId } = houseWithTrial();
    beginAnswers(house);
    const kept = () => expect(keptTrialAnswer(house, trialId)).not.toBeNull();
    await vi.waitFor(kept, { timeout: 30_000 });
  });

  it("is kept while nothing it rests on changes, and let go by a fact, but not by another trial's", async () => {
    const { house, trialId, trial } = houseWithTrial();
    expect(keptTrialAnswer(house, trialId)).toBeNull();
    const empty = await trialAnswer(house, trialId);
    expect(empty).toMatchObject({ headline: null, asOf: null, plants: 0 });
    expect(keptTrialAnswer(house, trialId)).toBe(empty);
    send(house, [someFact(trial.plots[0].id, { seenOn: "2026-10-20" as Day })]);
    expect(keptTrialAnswer(house, trialId)).toBeNull();
    const told = await trialAnswer(house, trialId);
    expect(told?.asOf).toBe("2026-10-20");
    const entry = trial.entries.find((one) => one.role === "entry");
    given(
      recordVerdict(house, { trialId, entryId: entry?.id, choice: "drop", reason: "Too few.", by: "Ruth" }),
    );
    expect(keptTrialAnswer(house, trialId)).toBe(told);
    expect(await trialAnswer(house, "no such trial")).toBeNull();
  });

  it("tells a verdict on compared covers, or sowings, as one on each of them", () => {
    const verdict = { choice: "drop", reason: "Too few.", by: "Ruth" };
    const told = (changes: Partial<TrialPlan>) => {
      const { house, trialId, trial } = houseWithTrial({ design: "split-plot", covers: [], ...changes });
      const { id: entryId, varietyId } = trial.entries[1];
      given(recordVerdict(house, { trialId, entryId, ...verdict }));
      const use = varietyList(house)[0].varieties.find(({ id }) => id === varietyId)?.verdicts[0].use;
      return use && [use, sayUse(use)];
    };
    const fleece = { name: "White fleece", kind: "fleece" };
    const from = "2026-10-20" as Day;
    expect(
      told({
        mainPlots: {
          factor: "cover",
          levels: [
            { cover: null, fromOn: null, untilOn: null },
            { cover: fleece, fromOn: from, untilOn: null },
          ],
        },
      }),
    ).toMatchObject([
      { covers: [[], ["fleece"]] },
      expect.stringContaining("tried both in the open and under fleece"),
    ]);
    const thick = { name: "Thick fleece", kind: "fleece" };
    expect(
      told({
        mainPlots: {
          factor: "cover",
          levels: [fleece, thick].map((cover) => ({ cover, fromOn: from, untilOn: null })),
        },
      }),
    ).toMatchObject([
      { covers: [["fleece"]] },
      expect.stringContaining("as winter leaf, under fleece, sown"),
    ]);
    const days = ["2026-08-06", "2026-08-20"] as Day[];
    expect(
      told({ mainPlots: { factor: "sowing", levels: days.map((sownOn) => ({ sownOn })) } }),
    ).toMatchObject([
      { covers: [[]], sownOn: days },
      expect.stringContaining("in the open, sown about Thu 6 Aug and Thu 20 Aug"),
    ]);
  });

  it("gives a verdict to its use, a later one before the earlier", async () => {
    const { house, trialId, trial } = houseWithTrial();
    const entry = trial.entries[1];
    for (const [choice, reason] of [
      ["try once more", "Not sure."],
      ["drop", "Sure now."],
    ]) {
      given(recordVerdict(house, { trialId, entryId: entry.id, choice, reason, by: "Ruth" }));
      house.at = "2026-11-26T09:00:00.000Z" as typeof house.at;
    }
    const view = await varietyView(house, entry.varietyId);
    expect(view?.verdicts.map(({ verdicts }) => verdicts.map(({ choice }) => choice))).toEqual([
      ["drop", "try once more"],
    ]);
    expect(varietyList(house)[0].varieties.find(({ id }) => id === entry.varietyId)?.verdicts).toMatchObject([
      { choice: "drop" },
    ]);
  });
});
