import { describe, expect, it } from "vitest";
import type { FitRequest } from "@/lib/design/fit-bed";
import { oneMoreOf } from "@/lib/design/one-more";
import { planReach } from "@/lib/design/plan-reach";
import { whatItTells } from "@/lib/design/what-it-tells";
import { tTestPower } from "@/lib/statistics/t-test-power";

const plan: FitRequest = {
  design: "rcbd",
  entries: 5,
  blocks: 4,
  plantsPerPlot: 4,
  betweenPlantsMm: 300,
  betweenRowsMm: 300,
  beds: [{ id: "long", widthMm: 1_200, lengthMm: 6_000 }],
};

describe("what a trial would show over blocks and plants a plot", () => {
  const points = planReach(plan);

  it("holds the plan as it stands with the figures that its sentences have", () => {
    const own = points.filter((point) => point.isPlan);
    const { oftenSeen, yieldOftenSeen } = whatItTells(plan);
    expect(own).toEqual([
      { blocks: 4, plantsPerPlot: 4, survival: oftenSeen, yield: yieldOftenSeen, fits: true, isPlan: true },
    ]);
  });

  it("shows smaller differences with every block more, and with plants more a plot", () => {
    const of = (blocks: number, plantsPerPlot: number) =>
      points.find((point) => point.blocks === blocks && point.plantsPerPlot === plantsPerPlot)?.survival ?? 1;
    for (let blocks = 3; blocks <= 6; blocks += 1)
      for (let plants = 2; plants <= 12; plants += 1) {
        expect(of(blocks, plants)).toBeLessThanOrEqual(of(blocks - 1, plants));
        expect(of(blocks, plants)).toBeLessThanOrEqual(of(blocks, plants - 1));
      }
  });

  it("says which sizes the bed does not hold", () => {
    const fits = (blocks: number) =>
      points.find((point) => point.blocks === blocks && point.plantsPerPlot === 4)?.fits;
    expect([fits(4), fits(5)]).toEqual([true, false]);
  });

  it("keeps a plan of one block, of many blocks and of large plots among its points", () => {
    for (const own of [{ blocks: 1 }, { blocks: 12 }, { plantsPerPlot: 200 }])
      expect(planReach({ ...plan, ...own }).filter((point) => point.isPlan)).toHaveLength(1);
  });

  it("is nothing for a look-see bed, and one number of rows for a Latin square", () => {
    expect(planReach({ ...plan, design: "augmented", checks: 1 })).toEqual([]);
    const square = planReach({ ...plan, design: "latin", entries: 4 });
    expect(new Set(square.map((point) => point.blocks))).toEqual(new Set([4]));
  });
});

describe("a yield that would show four times in five", () => {
  it("is what the analysis of log yields would show", () => {
    // Five varieties in four blocks leave 12 df; plots scatter by 0.25 on logs.
    const log = Math.log1p(-(whatItTells(plan).yieldOftenSeen ?? 0));
    expect(tTestPower(log / (0.25 * Math.sqrt(2 / 4)), 12, 0.95)).toBeCloseTo(0.8, 9);
  });
});

describe("one step more", () => {
  it("says what a block buys against two plants a plot, how many plants that takes, and what the bed does not hold", () => {
    const { block, twoPlants, sentences } = oneMoreOf(plan);
    expect([block?.plantsMore, twoPlants.plantsMore]).toEqual([20, 40]);
    expect(block?.fits).toBe(false);
    expect(sentences[0]).toMatch(
      /^In survival, one more block \(20 plants more in all, which the bed does not hold.*\) buys \d+ points, from 56 down to 50; two more plants a plot /,
    );
    expect(sentences[1]).toMatch(/^In yield, one more block buys \d+ in 100, from 42 down to 38/);
  });

  it("has no block more for a Latin square", () => {
    expect(oneMoreOf({ ...plan, design: "latin", entries: 4 }).block).toBeNull();
  });
});
