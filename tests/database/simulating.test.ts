import { describe, expect, it } from "vitest";
import { amendEntry } from "@/lib/service/amend-entry";
import { simulateTrial } from "@/lib/service/simulate-trial";
import { trialView } from "@/lib/service/trial-view";
import { given, houseWithTrial, somePlan } from "./fresh-house";

describe("trying a plan out on made-up trials", () => {
  it("sees the differences about as often as the closed form says", () => {
    const plan = somePlan({ blocks: 5, plantsPerPlot: 6 });
    const batches = [0, 1, 2, 3, 4].map((batch) => given(simulateTrial(plan, batch)));
    const share = (of: "often" | "seldom") =>
      batches.reduce((sum, batch) => sum + (batch[of]?.seen ?? 0), 0) /
      batches.reduce((sum, batch) => sum + batch.trials, 0);
    // 500 trials: standard error 2 in 100; the closed form is good to about a tenth.
    expect(Math.abs(share("often") - 0.8)).toBeLessThan(0.13);
    expect(Math.abs(share("seldom") - 0.25)).toBeLessThan(0.13);
    expect(given(simulateTrial(plan, 3))).toEqual(batches[3]);
    expect(batches[3]).not.toEqual(batches[4]);
  });

  it("has nothing to try where no difference would show, and refuses designs it does not know", () => {
    expect(given(simulateTrial(somePlan({ blocks: 1, plantsPerPlot: 1 }), 0))).toMatchObject({
      often: null,
      seldom: null,
    });
    expect(simulateTrial(somePlan({ design: "latin", blocks: 3 }), 0)).toMatchObject({ ok: false });
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
