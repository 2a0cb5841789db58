import { describe, expect, it } from "vitest";
import { amendPlot } from "@/lib/service/amend-plot";
import { changeRule } from "@/lib/service/change-rule";
import { createTrial } from "@/lib/service/create-trial";
import { gardenView } from "@/lib/service/garden-view";
import { openPlan } from "@/lib/service/open-plan";
import { proposeTrial } from "@/lib/service/propose-trial";
import { sketchTrial } from "@/lib/service/sketch-trial";
import { startGarden } from "@/lib/service/start-garden";
import { trialView } from "@/lib/service/trial-view";
import { freshHouse, given, houseWithTrial, someGarden, somePlan } from "./fresh-house";

function houseWithGarden() {
  const house = freshHouse();
  given(startGarden(house, someGarden));
  return house;
}

/** What the form knows before anything is proposed. */
function beginning(changes: Record<string, unknown> = {}) {
  const { question, purpose, crop, entries, beds, covers, sownOn, plantedOn } = somePlan();
  return { question, purpose, crop, entries, beds, covers, sownOn, plantedOn, ...changes };
}

describe("a plan proposed from its beginning", () => {
  it("fits the bed, so that a trial can be made of it", () => {
    const house = houseWithGarden();
    const { plans, spacingFrom, ...rest } = given(proposeTrial(house, beginning()));
    expect(spacingFrom).toContain("common practice");
    for (const { blocks, plantsPerPlot } of plans) {
      const {
        tells: _,
        plants: __,
        ...plan
      } = { ...somePlan(), ...rest, blocks, plantsPerPlot, tells: 0, plants: 0 };
      expect(sketchTrial(plan).ok).toBe(true);
    }
    const [{ blocks, plantsPerPlot }] = plans;
    given(createTrial(house, { ...somePlan(), ...rest, blocks, plantsPerPlot }));
  });

  it("takes the spacing of the last trial of the crop", () => {
    const { house } = houseWithTrial();
    const next = beginning({ beds: [{ name: "West bed", widthMm: 1_200, lengthMm: 6_000 }] });
    expect(given(proposeTrial(house, next))).toMatchObject({
      betweenPlantsMm: 250,
      betweenRowsMm: 300,
      spacingFrom: "as in your trial “Which mustard stands the winter in the east bed?”",
    });
  });

  it.each([
    ["a check", { entries: somePlan().entries.slice(1) }, "entries.check"],
    ["room", { beds: [{ name: "Pot", widthMm: 200, lengthMm: 200 }] }, "beds.0.widthMm"],
    ["planting after sowing", { plantedOn: "2026-08-01" }, "plantedOn"],
    ["a question", { question: " " }, "question"],
  ])("is refused without %s", (_, change, place) => {
    const proposal = proposeTrial(houseWithGarden(), beginning(change));
    expect(proposal).toMatchObject({ ok: false });
    expect(!proposal.ok && proposal.faults.map((fault) => fault.place)).toContain(place);
  });

  it("is refused in a bed that is taken", () => {
    const { house } = houseWithTrial();
    expect(proposeTrial(house, beginning())).toMatchObject({ ok: false, faults: [{ place: "beds.0.name" }] });
  });
});

describe("a plan drawn before it is saved", () => {
  it("is dealt as the trial will be", () => {
    const { trial } = houseWithTrial();
    const sketch = given(sketchTrial(somePlan()));
    const varieties = new Map(trial.entries.map((entry) => [entry.id, entry.variety]));
    const kept = trial.plots.map((plot) => [plot.code, varieties.get(plot.entryId), plot.xMm, plot.yMm]);
    expect(sketch.plots.map((plot) => [plot.code, plot.variety, plot.xMm, plot.yMm]).sort()).toEqual(
      kept.sort(),
    );
  });

  it("is refused with the numbers when it does not fit", () => {
    expect(sketchTrial(somePlan({ plantsPerPlot: 60 }))).toMatchObject({
      ok: false,
      faults: [{ place: "blocks" }],
    });
  });
});

describe("a plan that is sent twice", () => {
  it("makes one trial, under the id that its form was opened with", () => {
    const house = houseWithGarden();
    const { trialId } = openPlan(house);
    const plan = somePlan({ id: trialId });
    expect(given(createTrial(house, plan))).toEqual({ trialId });
    expect(given(createTrial(house, plan))).toEqual({ trialId });
    expect(gardenView(house).trials).toHaveLength(1);
  });

  it("is refused when it has become another plan", () => {
    const house = houseWithGarden();
    const { trialId } = openPlan(house);
    given(createTrial(house, somePlan({ id: trialId })));
    expect(createTrial(house, somePlan({ id: trialId, blocks: 3 }))).toMatchObject({
      ok: false,
      faults: [{ place: "id" }],
    });
  });
});

describe("a change that is sent twice", () => {
  it("starts a garden once", () => {
    const house = houseWithGarden();
    expect(startGarden(house, someGarden).ok).toBe(true);
    expect(startGarden(house, { ...someGarden, name: "Another" }).ok).toBe(false);
  });

  it("changes the rule once, and not over somebody else's change", () => {
    const { house, trialId } = houseWithTrial();
    const change = { ...somePlan().rule, survivalFloor: 0.6, reason: "a hard corner", after: 1 };
    given(changeRule(house, trialId, change));
    given(changeRule(house, trialId, change));
    expect(trialView(house, trialId)?.rules).toHaveLength(2);
    expect(changeRule(house, trialId, { ...change, survivalFloor: 0.5 })).toMatchObject({
      ok: false,
      faults: [{ place: "after" }],
    });
  });

  it("takes a plot out once", () => {
    const { house, trialId, trial } = houseWithTrial();
    const plotId = trial.plots[0].id;
    const change = { trialId, plotId, kind: "excluded", fromOn: "2026-11-20", reason: "a dog", by: "Ruth" };
    expect(given(amendPlot(house, change))).toEqual(given(amendPlot(house, change)));
    expect(trialView(house, trialId)?.amendments).toHaveLength(1);
  });
});
