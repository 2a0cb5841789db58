import { describe, expect, it } from "vitest";
import { randomStream } from "@/lib/statistics/random-stream";
import type { Day } from "@/lib/words/day";
import type { TrialPlan } from "@/lib/words/trial-plan";
import { chardLastWinterPlan, chardLastWinterSeason } from "@/seed/chard-last-winter";
import { chardWinterBeforePlan, chardWinterBeforeSeason } from "@/seed/chard-winter-before";
import { kaleLastWinterPlan, kaleLastWinterSeason } from "@/seed/kale-last-winter";
import { lambsLettuceLastWinterPlan, lambsLettuceLastWinterSeason } from "@/seed/lambs-lettuce-last-winter";
import { leeksLastWinterPlan, leeksLastWinterSeason } from "@/seed/leeks-last-winter";
import { mustardLastWinterPlan, mustardLastWinterSeason } from "@/seed/mustard-last-winter";
import { mustardThisWinterPlan, mustardThisWinterSeason } from "@/seed/mustard-this-winter";
import type { Season } from "@/seed/season";
import { shifted, simulatePlot, type TrialTruth, trueGramsPerPlant, trueStanding } from "@/seed/simulate";
import truth from "@/seed/truth.json";

const trials: [TrialTruth, TrialPlan, Season][] = [
  [truth.trials["mustard-last-winter"], mustardLastWinterPlan, mustardLastWinterSeason],
  [truth.trials["kale-last-winter"], kaleLastWinterPlan, kaleLastWinterSeason],
  [truth.trials["mustard-this-winter"], mustardThisWinterPlan, mustardThisWinterSeason],
  [truth.trials["lambs-lettuce-last-winter"], lambsLettuceLastWinterPlan, lambsLettuceLastWinterSeason],
  [truth.trials["leeks-last-winter"], leeksLastWinterPlan, leeksLastWinterSeason],
  [truth.trials["chard-last-winter"], chardLastWinterPlan, chardLastWinterSeason],
  [truth.trials["chard-winter-before"], chardWinterBeforePlan, chardWinterBeforeSeason],
];
const plantedOn = "2025-09-20" as Day;

describe("the true values of the invented garden", () => {
  it("say for every variety what an endless number of trials would show", () => {
    for (const [trial, plan, season] of trials)
      for (const [variety, values] of Object.entries(trial.varieties)) {
        expect(values.standing).toBeCloseTo(trueStanding(trial, variety), 4);
        const size = { plants: plan.plantsPerPlot, plantedOn: plan.plantedOn as Day, picks: season.picks };
        const grams = trueGramsPerPlant(trial, variety, size, 400, 3);
        // 400 repetitions against the thousands behind the value kept: 5 in 100 is over three standard errors of the worst.
        expect(Math.abs(grams - values.gramsPerPlant)).toBeLessThanOrEqual(0.05 * values.gramsPerPlant);
      }
  });

  it("cover every variety that was planted, and a shift for every block", () => {
    for (const [trial, plan] of trials) {
      expect(Object.keys(trial.varieties).sort()).toEqual(plan.entries.map((entry) => entry.variety).sort());
      expect([trial.blockShift.length, trial.blockYield.length]).toEqual([plan.blocks, plan.blocks]);
    }
  });
});

describe("the simulation", () => {
  const trial: TrialTruth = truth.trials["mustard-last-winter"];
  const plots = (sharedFate: number, count: number) => {
    const stream = randomStream(12);
    const plot = { variety: "Hollin", block: 3, under: null, plants: 6, plantedOn, picks: [] };
    return Array.from({ length: count }, () => simulatePlot({ ...trial, sharedFate }, plot, stream).plants);
  };
  const stood = (plants: ReturnType<typeof plots>[number]) =>
    plants.filter((plant) => plant.goneOn === null || plant.comesAgainOn !== null).length;

  it("loses plants as often as it should, in that block", () => {
    const { took, wintered } = trial.varieties.Hollin;
    const chance = shifted(took, -0.5) * shifted(wintered, -0.5);
    const counts = plots(0.1, 6000).map(stood);
    const share = counts.reduce((sum, count) => sum + count, 0) / 36_000;
    // Standard error with ICC up to 0.1 in plots of six: √(0.25 × 1.5/36,000) = 0.0032.
    expect(Math.abs(share - chance)).toBeLessThan(0.013);
  });

  it("clumps losses as much as it is told, and not at all when told so", () => {
    const { took, wintered } = trial.varieties.Hollin;
    const [t, w] = [shifted(took, -0.5), shifted(wintered, -0.5)];
    for (const sharedFate of [0, 0.1, 0.4]) {
      const counts = plots(sharedFate, 6000).map(stood);
      const mean = counts.reduce((sum, count) => sum + count, 0) / counts.length;
      const variance = counts.reduce((sum, count) => sum + (count - mean) ** 2, 0) / (counts.length - 1);
      const p = mean / 6;
      const icc = (variance / (6 * p * (1 - p)) - 1) / 5;
      // Both steps clump alike, so two plants both stand with chance (t² + ρt(1−t))(w² + ρw(1−w)).
      const both = (t * t + sharedFate * t * (1 - t)) * (w * w + sharedFate * w * (1 - w));
      const expected = (both - (t * w) ** 2) / (t * w * (1 - t * w));
      expect(Math.abs(icc - expected)).toBeLessThan(0.03);
    }
  });

  it("takes plants early by pests, in the cold by cold, and brings some of those back in March", () => {
    const fates = plots(0.1, 3000).flat();
    for (const { goneOn, cause, comesAgainOn } of fates) {
      if (goneOn === null) continue;
      expect(goneOn > plantedOn).toBe(true);
      if (cause === "flea-beetle") expect(goneOn < "2025-10-12").toBe(true);
      if (cause === "cold") expect(goneOn >= "2026-01-01" && goneOn <= "2026-02-10").toBe(true);
      if (comesAgainOn !== null)
        expect(comesAgainOn >= "2026-03-01" && comesAgainOn <= "2026-03-28").toBe(true);
    }
    expect(fates.some((fate) => fate.comesAgainOn !== null)).toBe(true);
  });

  it("gives the same from the same seed", () => {
    expect(plots(0.1, 20)).toEqual(plots(0.1, 20));
  });
});
