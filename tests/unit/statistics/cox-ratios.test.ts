import { describe, expect, it } from "vitest";
import { coxRatio, coxRatios } from "@/lib/statistics/cox-ratios";

describe("coxRatios", () => {
  it("solves by hand where one plant of each of two groups is left at a loss", () => {
    // Two blocks: in each a plant of A and one of B; A lost first in both of the first two, B in the third.
    const lifetimes = {
      times: [1, 2, 1, 2, 2, 1],
      causes: [1, 0, 1, 0, 0, 1],
      groups: [0, 1, 0, 1, 0, 1],
      blocks: [0, 0, 1, 1, 2, 2],
    };
    const fit = coxRatios(lifetimes, 2);
    const ratio = coxRatio(fit, 0, 1, 0.95);
    // θ/(1 + θ) = 2/3, information 3 × 2/3 × 1/3.
    expect(ratio?.estimate).toBeCloseTo(Math.log(2), 12);
    expect(ratio?.se).toBeCloseTo(Math.sqrt(3 / 2), 12);
    expect(fit.logLikelihood.alike).toBeCloseTo(3 * Math.log(1 / 2), 14);
    expect(fit.logLikelihood.fitted).toBeCloseTo(2 * Math.log(2 / 3) + Math.log(1 / 3), 12);
  });

  it("sets apart a group that lost none, and gives the others' ratio as if it were not there", () => {
    const two = {
      times: [1, 2, 3, 4, 1, 3, 5, 5],
      causes: [1, 1, 1, 0, 1, 0, 1, 1],
      groups: [0, 0, 0, 0, 1, 1, 1, 1],
    };
    const three = {
      times: [...two.times, 5, 5, 5],
      causes: [...two.causes, 0, 0, 0],
      groups: [...two.groups, 2, 2, 2],
      blocks: null,
    };
    const fit = coxRatios(three, 3);
    expect(coxRatio(fit, 2, 0, 0.95)).toBeNull();
    const alone = coxRatio(coxRatios({ ...two, blocks: null }, 2), 0, 1, 0.95);
    const among = coxRatio(fit, 0, 1, 0.95);
    expect(among?.estimate).toBeCloseTo(alone?.estimate as number, 10);
    expect(among?.se).toBeCloseTo(alone?.se as number, 10);
    expect(fit.likelihoodRatio?.df).toBe(2);
    expect(Number.isFinite(fit.likelihoodRatio?.chiSquare)).toBe(true);
  });

  it("has no ratio and no test without losses, with one group, or between groups that never met", () => {
    const none = coxRatios({ times: [1, 2], causes: [0, 0], groups: [0, 1], blocks: null }, 2);
    expect(coxRatio(none, 0, 1, 0.95)).toBeNull();
    expect(none.likelihoodRatio).toBeNull();
    expect(
      coxRatios({ times: [1, 2], causes: [1, 1], groups: [0, 0], blocks: null }, 1).likelihoodRatio,
    ).toBeNull();
    const apart = coxRatios(
      { times: [1, 2, 1, 2], causes: [1, 1, 1, 1], groups: [0, 0, 1, 1], blocks: [0, 0, 1, 1] },
      2,
    );
    expect(coxRatio(apart, 0, 1, 0.95)).toBeNull();
  });
});
