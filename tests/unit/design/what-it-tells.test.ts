import { describe, expect, it } from "vitest";
import { proposePlan } from "@/lib/design/propose-plan";
import { whatItTells } from "@/lib/design/what-it-tells";
import { effectivePlants } from "@/lib/statistics/effective-plants";

describe("what a trial can tell", () => {
  it("says how little twelve plants prove", () => {
    const tells = whatItTells({ design: "rcbd", entries: 4, blocks: 4, plantsPerPlot: 3 });
    expect(tells.sentences.slice(0, 5)).toEqual([
      "You would see a true difference of 61 points in survival four times in five; of 32 points once in four. That is, 75 in 100 of one standing against 14, or 43, of the other.",
      "In yield you would see, four times in five, a variety that gives 43 in 100 less than the check.",
      "12 plants of each variety in 4 plots tell about as much as 9 that each had a plot to themselves.",
      "If 9 of 12 stand, the true share may lie anywhere from 42 to 93 in 100.",
      "Against a variety that stands at three in four, only a difference of about 46 points or more will show clearly.",
    ]);
  });

  it("is the results' own interval where the plots scatter as was taken", () => {
    // Two varieties in two plots of 50; 1 + 49 × 0.1 = 5.9 is the scatter taken.
    const plot = (variety: string, block: string, standing: number) => ({
      variety,
      block,
      row: null,
      column: null,
      setOut: 50,
      standing,
    });
    const result = effectivePlants(
      [plot("a", "1", 30), plot("b", "1", 20), plot("a", "2", 25), plot("b", "2", 30)],
      "rcbd",
      0.95,
    );
    const tells = whatItTells({ design: "rcbd", entries: 2, blocks: 2, plantsPerPlot: 50 });
    // Seen is somewhat less scatter than taken, and less scatter is worth more plants.
    expect(result.dispersion.f).toBeGreaterThan(4);
    expect(result.dispersion.f).toBeLessThan(5.9);
    const seen = result.varieties[0].effectivePlants ?? 0;
    expect(tells.effectivePlants).toBeLessThan(seen);
    expect(tells.effectivePlants).toBeGreaterThan(seen * 0.8);
  });

  it("says that one plot cannot tell a variety from its spot, and when a layout cannot reach 1 in 20", () => {
    const one = whatItTells({ design: "rcbd", entries: 5, blocks: 1, plantsPerPlot: 6 });
    expect(one.sentences).toContain("One plot cannot tell a variety from its spot.");
    expect(one.clearDifference).toBeNull();
    const two = whatItTells({ design: "rcbd", entries: 3, blocks: 2, plantsPerPlot: 6 });
    expect(two.sentences).toContain(
      "This layout cannot reach 1 in 20 however clear the result; read the interval.",
    );
    const four = whatItTells({ design: "rcbd", entries: 4, blocks: 2, plantsPerPlot: 6 });
    expect(four.sentences.join(" ")).not.toContain("cannot reach");
    const three = whatItTells({ design: "rcbd", entries: 3, blocks: 3, plantsPerPlot: 6 });
    expect(three.sentences.join(" ")).not.toContain("1 in 20");
  });

  it("tells more with more blocks, and more by blocks than by as many plants in fewer of them", () => {
    const worth = (blocks: number, plantsPerPlot: number) =>
      whatItTells({ design: "rcbd", entries: 4, blocks, plantsPerPlot }).effectivePlants;
    expect(worth(5, 6)).toBeGreaterThan(worth(4, 6));
    expect(worth(6, 4)).toBeGreaterThan(worth(3, 8));
  });
});

describe("proposing a plan", () => {
  const base = { design: "rcbd" as const, entries: 4, betweenPlantsMm: 300, betweenRowsMm: 300 };

  it("proposes the smallest plan that tells nearly as much as the best, and the others after it", () => {
    const plans = proposePlan({ ...base, beds: [{ id: "b", widthMm: 1200, lengthMm: 6000 }] });
    expect(plans.map((plan) => [plan.blocks, plan.plantsPerPlot])).toEqual([
      [6, 3],
      [5, 4],
      [4, 5],
      [3, 6],
      [2, 10],
    ]);
  });

  it("comes down to single plants and a single block before it gives up", () => {
    const inBed = (lengthMm: number) =>
      proposePlan({ ...base, beds: [{ id: "b", widthMm: 1200, lengthMm }] }).map((plan) => [
        plan.blocks,
        plan.plantsPerPlot,
      ]);
    expect(inBed(600)).toEqual([[2, 1]]);
    expect(inBed(300)).toEqual([[1, 1]]);
    expect(inBed(200)).toEqual([]);
  });
});
