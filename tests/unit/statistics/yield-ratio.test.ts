import { describe, expect, it } from "vitest";
import { factor } from "@/lib/statistics/factor";
import {
  fiellerFloorProbability,
  fiellerRatio,
  pairedMeans,
  unpairedMeans,
} from "@/lib/statistics/fieller-ratio";
import { logRatioFloorProbability } from "@/lib/statistics/log-ratio-floor-probability";
import { logRatios } from "@/lib/statistics/log-ratios";
import { studentTQuantile } from "@/lib/statistics/student-t";

describe("fiellerRatio", () => {
  const pair = pairedMeans([0, 40, 50, 60], [100, 90, 110, 100]);

  it("takes the pair's own means, variances and covariance from blocks that hold both", () => {
    // Deviations −37.5, 2.5, 12.5, 22.5 and 0, −10, 10, 0; sums of squares 2075 and 200, of products 100; over 3 × 4.
    expect(pair).toEqual({
      variety: 37.5,
      check: 100,
      varianceOfVariety: expect.closeTo(2075 / 12, 12),
      varianceOfCheck: expect.closeTo(200 / 12, 12),
      covariance: expect.closeTo(100 / 12, 12),
      df: 3,
    });
  });

  it("takes means over treatments and the scatter within them, where main plots of several are the blocks", () => {
    // Means 10 and 30 of the variety, 20 and 40 of the check; deviations −2, 2, −4, 4 and −1, 1, −3, 3; 4 − 2 = 2 df;
    // sums of squares 40 and 20, of products 28; a mean of two means of two has a quarter of a plot's variance.
    const within = pairedMeans([8, 12, 26, 34], [19, 21, 37, 43], ["net", "net", "fleece", "fleece"]);
    expect(within).toEqual({
      variety: 20,
      check: 30,
      varianceOfVariety: expect.closeTo(40 / 2 / 4, 12),
      varianceOfCheck: expect.closeTo(20 / 2 / 4, 12),
      covariance: expect.closeTo(28 / 2 / 4, 12),
      df: 2,
    });
  });

  it("solves Fieller's equation at both limits", () => {
    const { ratio, low, high } = fiellerRatio(pair, 0.95);
    expect(ratio).toBeCloseTo(0.375, 14);
    const t = studentTQuantile(0.975, 3);
    for (const limit of [low as number, high as number]) {
      const variance = 2075 / 12 - (2 * limit * 100) / 12 + (limit ** 2 * 200) / 12;
      expect((37.5 - limit * 100) ** 2 / variance).toBeCloseTo(t * t, 9);
    }
    expect(low).toBeLessThan(0.375);
    expect(high).toBeGreaterThan(0.375);
  });

  it("puts probability (1 ± level)/2 on a floor at a limit", () => {
    const { low, high } = fiellerRatio(pair, 0.9);
    expect(fiellerFloorProbability(pair, low as number)).toBeCloseTo(0.95, 12);
    expect(fiellerFloorProbability(pair, high as number)).toBeCloseTo(0.05, 12);
  });

  it("says that the check is too uncertain where its mean may be nothing", () => {
    expect(fiellerRatio(pairedMeans([5, 6, 7], [0, 30, 2]), 0.95)).toEqual({
      ratio: null,
      low: null,
      high: null,
      reason: "check too uncertain",
    });
    expect(fiellerRatio(pairedMeans([5, 6, 7], [0, 0, 0]), 0.95).reason).toBe("check too uncertain");
  });

  it("gives no ratio to a variety that yielded nothing anywhere, nor where all is nothing", () => {
    expect(fiellerRatio(pairedMeans([0, 0, 0], [5, 6, 7]), 0.95).reason).toBe("no yield");
    expect(fiellerRatio(pairedMeans([0, 0], [0, 0]), 0.95).reason).toBe("no yield");
  });

  it("gives a single block its ratio without limits", () => {
    expect(fiellerRatio(pairedMeans([4], [8]), 0.95)).toEqual({
      ratio: 0.5,
      low: null,
      high: null,
      reason: "no df",
    });
    expect(fiellerFloorProbability(pairedMeans([4], [8]), 0.5)).toBeNull();
  });

  it("takes plots without blocks on the df of the smaller group", () => {
    expect(unpairedMeans([4, 6, 8], [10, 14])).toEqual({
      variety: 6,
      check: 12,
      varianceOfVariety: expect.closeTo(4 / 3, 14),
      varianceOfCheck: 4,
      covariance: 0,
      df: 1,
    });
  });

  it("refuses what is not finite", () => {
    expect(() => fiellerRatio({ ...pair, check: Number.NaN }, 0.95)).toThrow(
      "fiellerRatio requires finite means and variances; got NaN",
    );
    expect(() => pairedMeans([1], [1, 2])).toThrow(
      "pairedMeans requires a yield of both in every block; got 1 and 2",
    );
  });
});

describe("logRatios", () => {
  const variety = factor("variety", ["Pennick", "Hollin", "Carrow", "Pennick", "Hollin", "Carrow"]);
  const block = factor("block", ["1", "1", "1", "2", "2", "2"]);

  it("gives the ratio of geometric means in complete blocks", () => {
    const { ratios } = logRatios([100, 200, 50, 400, 200, 100], variety, [block], "Pennick", 0.95);
    expect(ratios.map(({ ratio }) => ratio)).toEqual([
      expect.closeTo(1, 12),
      expect.closeTo(Math.sqrt(1 / 8), 12),
    ]);
    for (const { low, high, log } of ratios) {
      expect(low as number).toBeGreaterThan(0);
      expect(logRatioFloorProbability(log, low as number)).toBeCloseTo(0.975, 12);
      expect(logRatioFloorProbability(log, high as number)).toBeCloseTo(0.025, 12);
    }
  });

  it("leaves a variety with a plot of nothing to Fieller, and the others as if it were not there", () => {
    const found = logRatios([100, 0, 50, 400, 200, 100], variety, [block], "Pennick", 0.95);
    expect(found.withZeros).toEqual(["Hollin"]);
    const alone = logRatios(
      [100, 50, 400, 100],
      factor("variety", ["Pennick", "Carrow", "Pennick", "Carrow"]),
      [factor("block", ["1", "1", "2", "2"])],
      "Pennick",
      0.95,
    );
    expect(found.ratios).toEqual(alone.ratios);
  });

  it("has nothing to say where the check lost a plot's yield or every yield is the same", () => {
    expect(logRatios([0, 200, 50, 400, 200, 100], variety, [block], "Pennick", 0.95)).toEqual({
      ratios: [],
      withZeros: ["Hollin", "Carrow"],
    });
    const same = logRatios([5, 5, 5, 5, 5, 5], variety, [block], "Pennick", 0.95);
    expect(same.ratios[0]).toMatchObject({
      ratio: 1,
      low: null,
      high: null,
      log: { reason: "no variation" },
    });
    expect(logRatioFloorProbability(same.ratios[0].log, 0.8)).toBeNull();
  });

  it("refuses a yield below nothing", () => {
    expect(() => logRatios([-1, 2, 5, 4, 2, 1], variety, [], "Pennick", 0.95)).toThrow(
      "logRatios requires finite yields ≥ 0; got -1",
    );
  });
});
