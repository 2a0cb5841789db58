import { describe, expect, it } from "vitest";
import { analyseTrial } from "@/lib/analysis/analyse-trial";
import {
  sentenceForInteractions,
  sentenceForTreatment,
  sentenceForTreatments,
} from "@/lib/report/sentence-for-main";
import { createTrial } from "@/lib/service/create-trial";
import { exportTrial } from "@/lib/service/export-trial";
import { gardenView } from "@/lib/service/garden-view";
import { importTrial } from "@/lib/service/import-trial";
import { sketchTrial } from "@/lib/service/sketch-trial";
import { startGarden } from "@/lib/service/start-garden";
import { trialRecord } from "@/lib/service/trial-record";
import { trialView } from "@/lib/service/trial-view";
import type { Day } from "@/lib/words/day";
import type { TrialPlan } from "@/lib/words/trial-plan";
import { freshHouse, given, houseWithTrial, send, someFact, someGarden, somePlan } from "./fresh-house";

const onions = {
  name: "onions",
  habit: "slow and upright",
  sownOn: "2026-08-01",
  betweenPlantsMm: 100,
} as const;

const compared: Partial<TrialPlan> = {
  design: "split-plot",
  blocks: 4,
  plantsPerPlot: 4,
  beds: [{ name: "Onion bed", widthMm: 1_200, lengthMm: 20_000 }],
  mainPlots: { factor: "companion", levels: [{ companion: onions }, { companion: null }] },
};

describe("a companion as what main plots are dealt", () => {
  it("stands in one whole main plot of every block and not in the other, on the layout and in the record", () => {
    const { house, trial, trialId } = houseWithTrial(compared);
    expect(trial.levels.map((level) => level.words)).toEqual(["with onions between", "alone"]);
    expect(trial.levels[0].companion).toEqual(onions);
    expect(trial.companions).toEqual([]);
    for (let block = 1; block <= 4; block += 1) {
      const own = trial.plots.filter((plot) => plot.block === block);
      expect(own.filter((plot) => plot.under === "with onions between")).toHaveLength(trial.entries.length);
      expect(own.filter((plot) => plot.under === "alone")).toHaveLength(trial.entries.length);
    }
    const record = trialRecord(house, trialId);
    expect(new Set(record?.plots.map((plot) => plot.companion))).toEqual(new Set(["onions", null]));
  });

  it("is drawn where it stands and nowhere else, with what to do in the other stretches", () => {
    const sketch = given(sketchTrial(somePlan(compared)));
    expect(sketch.companions).toEqual([{ ...onions, under: "with onions between" }]);
    expect(sketch.levels).toEqual(["with onions between", "alone"]);
    expect(sketch.cautions.join(" ")).toContain("Leave the rows where the companion would stand empty");
    expect(sketch.tells.sentences.join(" ")).toContain("Companions are compared by whole main plots");
  });

  it("is analysed by whole main plots, and read out in words that a person would say", () => {
    const { house, trial, trialId } = houseWithTrial(compared);
    send(
      house,
      trial.plots.map((plot) => someFact(plot.id, { amount: plot.under === "alone" ? 4 : 2 })),
    );
    const record = trialRecord(house, trialId);
    if (!record) throw new Error("a record is wanted");
    const main = analyseTrial(record).survival?.value.main;
    if (!main) throw new Error("main plots are wanted");
    expect(main.factor).toBe("companion");
    const said = [
      ...main.treatments.map(sentenceForTreatment),
      ...main.differences.map(sentenceForTreatments),
      sentenceForInteractions(main),
    ].join("\n");
    expect(said).toMatch(/^With onions between, 24 of 48 .*stood/m);
    expect(said).toMatch(/^Alone, 48 of 48 .*stood/m);
    expect(said).toContain("With onions between, clearly 50 fewer in a hundred stood than alone,");
    expect(said).toContain("depend on the companion is not clear");
    expect(said).not.toContain("under");
  });

  it("is told whole in the trial's own files", () => {
    const { house, trialId } = houseWithTrial(compared);
    const files = exportTrial(house, trialId)?.files ?? {};
    expect(files["main-levels.csv"]).toMatch(/with onions between,companion,.*,onions\r?\nalone,companion,/);
    expect(files["companions.csv"]).toContain("onions,slow and upright,2026-08-01,100");
    expect(files["plots.csv"].split(/\r?\n/)[0]).toContain(",cover,companion,sown_on,");
  });

  it("comes in again elsewhere, from the trial's folder or from its plots alone, with the same figures", () => {
    const { house, trial, trialId } = houseWithTrial(compared);
    send(
      house,
      trial.plots.map((plot, place) => someFact(plot.id, { amount: place % 4 })),
    );
    const files = exportTrial(house, trialId)?.files ?? {};
    const own = trialRecord(house, trialId);
    const pair = { "plots.csv": files["plots.csv"], "observations.csv": files["observations.csv"] };
    const description = { "datapackage.json": JSON.stringify({ design: "split-plot" }) };
    for (const told of [files, { ...pair, ...description }]) {
      const other = freshHouse();
      given(startGarden(other, someGarden));
      const sources = Object.entries(told).map(([name, text]) => ({
        name,
        chunks: () => [new TextEncoder().encode(text)],
      }));
      const asked = {
        kind: "trial",
        trialId: null,
        mapping: {},
        dayOrder: null,
        skipBlank: false,
        trial: { question: "With onions?", crop: "mustard greens", check: "Pennick" },
      } as const;
      const answer = importTrial(other, asked, sources, {
        isWriting: true,
        steps: { isStopped: () => false },
      });
      expect(answer).toMatchObject({ state: "done" });
      const [line] = gardenView(other).trials;
      const view = trialView(other, line.id);
      expect(view?.levels.map((level) => level.words).sort()).toEqual(["alone", "with onions between"]);
      expect(view?.companions).toEqual([]);
      const record = trialRecord(other, line.id);
      if (!own || !record) throw new Error("two records are wanted");
      expect(analyseTrial(record, { at: "2027-03-20" as Day }).survival?.value.main?.differences).toEqual(
        analyseTrial(own, { at: "2027-03-20" as Day }).survival?.value.main?.differences,
      );
    }
  });

  it("is refused as the crop itself, twice, in every plot as well, and outside a split plot", () => {
    const faults = (plan: Partial<TrialPlan>) => {
      const { house } = houseWithTrial();
      const made = createTrial(house, somePlan(plan));
      return made.ok ? [] : made.faults.map((fault) => `${fault.place}: ${fault.wanted}`);
    };
    const levels = (...names: string[]) => ({
      mainPlots: {
        factor: "companion" as const,
        levels: names.map((name) => ({ companion: { ...onions, name } })),
      },
    });
    expect(faults({ ...compared, ...levels("Onions", "onions") })).toEqual([
      "mainPlots.levels.1.companion: a companion that is not in the list already",
    ]);
    expect(faults({ ...compared, ...levels("onions", somePlan({}).crop) })).toEqual([
      "mainPlots.levels.1.companion.name: another crop than the one on trial",
    ]);
    expect(faults({ ...compared, companions: [onions] })).toEqual([
      "mainPlots.levels.0.companion.name: a companion that does not stand in every plot",
    ]);
    expect(faults({ ...compared, design: "rcbd" })).toEqual(["design: a split plot, to compare companions"]);
  });

  it("cannot be dealt without being there, nor taken away once dealt", () => {
    const { house } = houseWithTrial(compared);
    const run = (sql: string) => () => house.database.$client.prepare(sql).run();
    expect(run("UPDATE main_level SET companion = 'radish'")).toThrow(/a companion of their trial/);
    expect(run("DELETE FROM companion")).toThrow(/were dealt this companion/);
    expect(run("UPDATE companion SET name = 'leeks'")).toThrow(/were dealt this companion/);
  });
});
