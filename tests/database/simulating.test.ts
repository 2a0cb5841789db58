import { describe, expect, it } from "vitest";
import { amendEntry } from "@/lib/service/amend-entry";
import { simulateTrial } from "@/lib/service/simulate-trial";
import { trialView } from "@/lib/service/trial-view";
import type { TrialPlan } from "@/lib/words/trial-plan";
import { given, houseWithTrial, somePlan } from "./fresh-house";

/** How often, in so many batches, each difference tried was seen. */
function shares(plan: object, batches: number): number[] {
  const all = Array.from({ length: batches }, (_, batch) => given(simulateTrial(plan, batch)));
  return all[0].tries.map(
    (_, place) =>
      all.reduce((sum, batch) => sum + batch.tries[place].seen, 0) /
      all.reduce((sum, batch) => sum + batch.trials, 0),
  );
}

const roomy = { beds: [{ name: "Roomy bed", widthMm: 1_600, lengthMm: 20_000 }] };
const entries = (count: number): TrialPlan["entries"] =>
  Array.from({ length: count }, (_, place) => ({
    variety: `Seedling ${place}`,
    packetClaim: null,
    role: place === 0 ? "check" : "entry",
  }));
const compared: TrialPlan["mainPlots"] = {
  factor: "cover",
  levels: [null, { name: "fleece", kind: "fleece" }].map((cover) => ({ cover, fromOn: null, untilOn: null })),
};

describe("trying a plan out on made-up trials", () => {
  // 300 trials: standard error 2.3 in 100; the closed form is good to about a tenth.
  it.each<[string, Partial<TrialPlan>]>([
    ["plots at random", { design: "crd", entries: entries(4), blocks: 4, plantsPerPlot: 6 }],
    ["blocks", { design: "rcbd", entries: entries(4), blocks: 5, plantsPerPlot: 6 }],
    ["a Latin square", { design: "latin", entries: entries(4), blocks: 4, plantsPerPlot: 6 }],
    [
      "small blocks",
      { design: "incomplete-blocks", entries: entries(12), blocks: 3, plantsPerPlot: 6, plotsPerBlock: 3 },
    ],
    [
      "a split plot",
      {
        design: "split-plot",
        entries: entries(3),
        blocks: 4,
        plantsPerPlot: 6,
        mainPlots: compared,
      },
    ],
  ])("sees the differences about as often as the closed form says, in %s", (_, plan) => {
    const [often, seldom, ...others] = shares(somePlan({ ...roomy, ...plan }), 3);
    expect(Math.abs(often - 0.8)).toBeLessThan(0.13);
    expect(Math.abs(seldom - 0.25)).toBeLessThan(0.13);
    // Yields are known better than survival: they have no clumping of plants.
    expect(Math.abs((others.at(-1) ?? 0) - 0.8)).toBeLessThan(0.08);
  });

  it("tries a yield in every design that leaves something to judge scatter by", () => {
    const yieldOf = (plan: Partial<TrialPlan>) =>
      given(simulateTrial(somePlan({ ...roomy, ...plan }), 0)).tries.at(-1)?.words;
    for (const plan of [{}, { design: "crd" as const }])
      expect(yieldOf({ ...plan, entries: entries(4), blocks: 5, plantsPerPlot: 6 })).toMatch(
        /^a yield \d+ in 100 less than the check’s$/,
      );
    // A look-see bed with one check has none; with two, what the checks leave over between them.
    const lookSee = { design: "augmented" as const, blocks: 6, plantsPerPlot: 6 };
    expect(yieldOf({ ...lookSee, entries: entries(8) })).not.toMatch(/yield/);
    const [check, tender, ...others] = entries(8);
    const withTwo = [check, { ...tender, role: "tender-check" as const }, ...others];
    expect(yieldOf({ ...lookSee, entries: withTwo })).toMatch(/^a yield \d+ in 100 less/);
    const [, seen] = shares(somePlan({ ...roomy, ...lookSee, entries: withTwo }), 3);
    expect(Math.abs(seen - 0.8)).toBeLessThan(0.08);
  });

  it("tries covers by whole main plots", () => {
    const split = somePlan({
      ...roomy,
      design: "split-plot",
      entries: entries(3),
      blocks: 4,
      plantsPerPlot: 6,
      mainPlots: compared,
    });
    const { tries } = given(simulateTrial(split, 0));
    expect(tries.map((one) => one.words)).toContainEqual(expect.stringMatching(/points between two covers$/));
    expect(Math.abs(shares(split, 3)[2] - 0.8)).toBeLessThan(0.15);
  });

  it("says of a look-see bed how often dead is told from alive, and that the best looks better than it is", () => {
    const plan = somePlan({
      ...roomy,
      design: "augmented",
      entries: entries(12),
      blocks: 4,
      plantsPerPlot: 8,
    });
    const { tries, bestShown, trials } = given(simulateTrial(plan, 0));
    expect(tries).toHaveLength(1);
    expect(tries[0].seen).toBeGreaterThan(trials / 3);
    expect((bestShown ?? 0) / trials).toBeGreaterThan(0.85);
  });

  it("gives the same answer for the same plan and batch, and another for another batch", () => {
    const plan = somePlan({ ...roomy, blocks: 5, plantsPerPlot: 6 });
    expect(given(simulateTrial(plan, 3))).toEqual(given(simulateTrial(plan, 3)));
    expect(given(simulateTrial(plan, 3))).not.toEqual(given(simulateTrial(plan, 4)));
  });

  it("has nothing to try where no difference would show, and refuses what cannot be dealt", () => {
    expect(given(simulateTrial(somePlan({ blocks: 1, plantsPerPlot: 1 }), 0)).tries).toEqual([]);
    expect(simulateTrial(somePlan({ design: "latin", blocks: 2 }), 0)).toMatchObject({ ok: false });
    expect(simulateTrial({}, 0)).toMatchObject({ ok: false });
  });
});

describe("taking a variety out", () => {
  it("takes each of its plots out with the reason, once however often it is sent", () => {
    const { house, trialId, trial } = houseWithTrial();
    const [, entry] = trial.entries;
    const change = {
      trialId,
      entryId: entry.id,
      kind: "missing",
      fromOn: "2026-09-20",
      reason: "did not come up",
      by: "",
    };
    expect(given(amendEntry(house, change))).toEqual({ plots: 4 });
    given(amendEntry(house, change));
    const out = trialView(house, trialId)?.amendments ?? [];
    const plots = trial.plots.filter((plot) => plot.entryId === entry.id).map((plot) => plot.id);
    expect(out.map((row) => row.plotId).sort()).toEqual(plots.sort());
    expect(amendEntry(house, { ...change, reason: " " })).toMatchObject({
      ok: false,
      faults: [{ place: "reason" }],
    });
    expect(amendEntry(house, { ...change, entryId: "nobody" })).toMatchObject({ ok: false });
  });
});
