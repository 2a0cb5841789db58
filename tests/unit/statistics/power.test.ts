import { describe, expect, it } from "vitest";
import { fTestPower } from "@/lib/statistics/f-test-power";
import { randomStream } from "@/lib/statistics/random-stream";
import { detectableShare, simulatedSurvivalPower, survivalPower } from "@/lib/statistics/survival-power";
import { tTestNonCentrality, tTestPower } from "@/lib/statistics/t-test-power";
import { detectableRatio, simulatedYieldPower, yieldPower } from "@/lib/statistics/yield-power";

const survival = {
  varieties: 4,
  plotsEach: 4,
  plantsPerPlot: 8,
  layout: "rcbd" as const,
  icc: 0.1,
  level: 0.95,
};
const yields = { varieties: 4, plotsEach: 4, layout: "rcbd" as const, cv: 0.25, level: 0.95 };

describe("power of t and F", () => {
  it("is the level's own error where there is nothing to see", () => {
    expect(tTestPower(0, 7, 0.95)).toBeCloseTo(0.05, 12);
    expect(fTestPower(0, 3, 9, 0.95)).toBeCloseTo(0.05, 12);
  });

  it("agrees between t and F on 1 df, far out and with many df", () => {
    for (const [errors, df] of [
      [2.5, 6],
      [4, 30],
      [9, 12],
    ])
      expect(fTestPower(errors ** 2, 1, df, 0.95)).toBeCloseTo(tTestPower(errors, df, 0.95), 9);
    expect(tTestPower(2.8, 1e7, 0.95)).toBeCloseTo(tTestPower(2.8, Number.POSITIVE_INFINITY, 0.95), 6);
  });

  it("is solved back for the non-centrality", () => {
    expect(tTestPower(tTestNonCentrality(0.8, 9, 0.95), 9, 0.95)).toBeCloseTo(0.8, 12);
  });
});

describe("survival", () => {
  it("sees more with less clumping, more plots, or a larger difference", () => {
    const power = (plan: typeof survival, share: number) => survivalPower(plan, 0.75, share).t as number;
    expect(power({ ...survival, icc: 0 }, 0.4)).toBeGreaterThan(power(survival, 0.4));
    expect(power({ ...survival, plotsEach: 5 }, 0.4)).toBeGreaterThan(power(survival, 0.4));
    expect(power(survival, 0.3)).toBeGreaterThan(power(survival, 0.4));
  });

  it("solves the difference that is seen four times in five, or says that there is none", () => {
    const worse = detectableShare(survival, 0.75, 0.8, "worse") as number;
    expect(worse).toBeLessThan(0.5);
    expect(survivalPower(survival, 0.75, worse).normal).toBeCloseTo(0.8, 5);
    expect(detectableShare(survival, 0.75, 0.8, "better")).toBeNull();
  });

  it("has no t without residual df", () => {
    expect(survivalPower({ ...survival, plotsEach: 1 }, 0.2, 0.8).t).toBeNull();
  });

  it("through the analysis itself: rarely sees what is not there, sees what is, and the same for the same seed", () => {
    const none = simulatedSurvivalPower(survival, 0.6, 0.6, 400, randomStream(11));
    expect(none.power).toBeLessThan(0.05 + 4 * 0.011);
    const clear = simulatedSurvivalPower(survival, 0.9, 0.2, 200, randomStream(12));
    expect(clear.power).toBeGreaterThan(0.9);
    expect(simulatedSurvivalPower(survival, 0.9, 0.5, 50, randomStream(13))).toEqual(
      simulatedSurvivalPower(survival, 0.9, 0.5, 50, randomStream(13)),
    );
  });
});

describe("yield", () => {
  it("through the analysis itself is the closed form, within four errors of simulation", () => {
    const simulated = simulatedYieldPower(yields, 0.6, 600, randomStream(14));
    expect(Math.abs((simulated?.power ?? 0) - (yieldPower(yields, 0.6) ?? 0))).toBeLessThan(
      4 * (simulated?.error ?? 0),
    );
    const free = { ...yields, layout: "crd" as const };
    const without = simulatedYieldPower(free, 0.6, 600, randomStream(15));
    expect(Math.abs((without?.power ?? 0) - (yieldPower(free, 0.6) ?? 0))).toBeLessThan(
      4 * (without?.error ?? 0),
    );
  });

  it("solves the ratio, and has nothing to say without residual df", () => {
    expect(yieldPower(yields, detectableRatio(yields, 0.8) as number)).toBeCloseTo(0.8, 10);
    const one = { ...yields, plotsEach: 1 };
    expect([
      yieldPower(one, 0.5),
      detectableRatio(one, 0.8),
      simulatedYieldPower(one, 0.5, 5, randomStream(1)),
    ]).toEqual([null, null, null]);
  });

  it("refuses a plan that cannot be meant", () => {
    expect(() => yieldPower({ ...yields, cv: 0 }, 0.5)).toThrow("yieldPower requires cv > 0; got 0");
    expect(() => survivalPower({ ...survival, icc: 1 }, 0.5, 0.6)).toThrow(
      "survivalPower requires 0 ≤ icc < 1; got 1",
    );
  });
});
