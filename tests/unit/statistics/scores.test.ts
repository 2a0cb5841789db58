import { describe, expect, it } from "vitest";
import { normalQuantile } from "@/lib/statistics/normal";
import { probabilityOfSuperiority } from "@/lib/statistics/probability-of-superiority";
import { progressCurveArea } from "@/lib/statistics/progress-curve-area";
import { midRanks, vanElteren } from "@/lib/statistics/van-elteren";

describe("vanElteren", () => {
  it("by hand: two blocks of two, variety above in both", () => {
    const plots = [
      { score: 3, isVariety: true, block: "1" },
      { score: 1, isVariety: false, block: "1" },
      { score: 5, isVariety: true, block: "2" },
      { score: 4, isVariety: false, block: "2" },
    ];
    // Each block: rank 2 of mean 1.5, over 3; variance 1 × 1/2 × ½/9 of a spread of ½.
    expect(vanElteren(plots).z).toBeCloseTo((2 * 0.5) / 3 / Math.sqrt(2 * (0.25 / 9)), 14);
    expect(vanElteren(plots).scores).toEqual([2 / 3, 1 / 3, 2 / 3, 1 / 3]);
  });

  it("has nothing to compare where scores are all alike, or no block holds both", () => {
    const alike = [true, false].map((isVariety) => ({ score: 2, isVariety, block: "1" }));
    expect(vanElteren(alike)).toMatchObject({ z: null, p: null, blocks: 1, reason: "nothing to compare" });
    const apart = [true, false].map((isVariety) => ({ score: 2, isVariety, block: String(isVariety) }));
    expect(vanElteren(apart)).toMatchObject({ z: null, blocks: 0 });
    expect(vanElteren([]).reason).toBe("nothing to compare");
  });

  it("shares ranks among ties", () => {
    expect(midRanks([3, 1, 3, 2, 3])).toEqual([4, 1, 4, 2, 4]);
  });
});

describe("probabilityOfSuperiority", () => {
  it("counts pairs, ties half", () => {
    expect(probabilityOfSuperiority([2, 3], [1, 3], 0.95).estimate).toBe((1 + 1 + 0 + 0.5) / 4);
  });

  it("has limits of some width where every plot of one is above every plot of the other, by Newcombe's method 5", () => {
    const apart = probabilityOfSuperiority([5, 6, 7], [1, 2, 3], 0.95);
    expect(apart).toMatchObject({ estimate: 1, high: 1, p: null, method: "newcombe", reason: "no scatter" });
    const low = apart.low as number;
    const z = normalQuantile(0.975);
    const variance = ((low * (1 - low)) / 9) * (1 + (2 * (1 - low)) / (2 - low) + (2 * low) / (1 + low));
    expect((1 - low) / Math.sqrt(variance)).toBeCloseTo(z, 8);
    const below = probabilityOfSuperiority([1, 2, 3], [5, 6, 7], 0.95);
    expect(below.low).toBe(0);
    expect(below.high).toBeCloseTo(1 - low, 10);
  });

  it("answers for one plot of each, for all alike, and says when there is none", () => {
    expect(probabilityOfSuperiority([4], [2], 0.95)).toMatchObject({ estimate: 1, method: "newcombe" });
    const alike = probabilityOfSuperiority([4, 4], [4, 4], 0.95);
    expect(alike.estimate).toBe(0.5);
    expect(alike.low).toBeLessThan(0.5);
    expect(alike.high).toBeGreaterThan(0.5);
    expect(probabilityOfSuperiority([], [2], 0.95)).toMatchObject({
      estimate: null,
      low: null,
      reason: "no plots",
    });
  });
});

describe("progressCurveArea", () => {
  const scores = [
    { day: 0, score: 0 },
    { day: 7, score: 20 },
    { day: 14, score: 60 },
  ];

  it("is the trapezoid by hand, and the stairs by Simko and Piepho's formula", () => {
    expect(progressCurveArea(scores, "trapezoid")).toBe(70 + 280);
    expect(progressCurveArea(scores, "stairs")).toBe(350 + (30 * 14) / 2);
  });

  it("with even steps, the stairs are the mean score × days × n/(n − 1)", () => {
    expect(progressCurveArea(scores, "stairs")).toBeCloseTo((80 / 3) * 14 * (3 / 2), 12);
  });

  it("is missing with one score, and refuses days out of order", () => {
    expect(progressCurveArea(scores.slice(0, 1), "trapezoid")).toBeNull();
    expect(() => progressCurveArea([scores[1], scores[0]], "stairs")).toThrow(
      "progressCurveArea requires days ascending; got 7, 0",
    );
  });
});
