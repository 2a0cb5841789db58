import { describe, expect, it } from "vitest";
import { interceptMode } from "@/lib/statistics/intercept-mode";
import { pooledContrast } from "@/lib/statistics/pooled-contrast";
import { pooledSurvival } from "@/lib/statistics/pooled-survival";
import { randomEffects } from "@/lib/statistics/random-effects";
import { rootBySecant } from "@/lib/statistics/root-by-secant";

describe("pooledContrast", () => {
  it("as the prior's scale goes to 0 is the weighted mean with its plain limits, by hand", () => {
    const pooled = pooledContrast(
      [
        { estimate: 0.2, se: 0.1 },
        { estimate: 0.8, se: 0.2 },
      ],
      1e-6,
      null,
      0.95,
    );
    expect(pooled.mean.estimate).toBeCloseTo((0.2 * 100 + 0.8 * 25) / 125, 9);
    expect(pooled.mean.high).toBeCloseTo(0.32 + 1.959963984540054 / Math.sqrt(125), 9);
    expect(pooled.atLeastFloor).toBeNull();
  });

  it("with one winter has the prior's own spread, and limits that know it", () => {
    const one = pooledContrast([{ estimate: 0.5, se: 0.1 }], 0.5, 0.5, 0.95);
    expect(one.spread).toBeCloseTo(0.5 * Math.sqrt(2 / Math.PI), 9);
    expect(one.mean.estimate).toBeCloseTo(0.5, 12);
    expect(one.atLeastFloor?.another).toBeCloseTo(0.5, 9);
    expect(one.mean.high - one.mean.low).toBeGreaterThan(2 * 1.96 * 0.1);
  });

  it("refuses to pool nothing, and a standard error of 0", () => {
    expect(() => pooledContrast([], 1, null, 0.95)).toThrow(
      "pooledContrast requires at least one winter; got 0",
    );
    expect(() => pooledContrast([{ estimate: 1, se: 0 }], 1, null, 0.95)).toThrow(
      "pooledContrast requires finite standard errors > 0; got 0",
    );
  });
});

describe("randomEffects", () => {
  it("is by hand for two winters of equal error: τ² = ½ difference² − se²", () => {
    const fit = randomEffects(
      [
        { estimate: 1, se: 0.5 },
        { estimate: 3, se: 0.5 },
      ],
      0.95,
    );
    expect(fit.mean).toBeCloseTo(2, 12);
    expect(fit.spreadVariance).toBeCloseTo(2 - 0.25, 12);
    expect(fit.se).toBeCloseTo(1, 12);
    expect(fit.heterogeneity?.q).toBeCloseTo(8, 12);
  });

  it("has a spread of 0 and a multiplier of 1 where winters agree better than they should", () => {
    const fit = randomEffects(
      [
        { estimate: 1, se: 0.5 },
        { estimate: 1.1, se: 0.5 },
      ],
      0.95,
    );
    expect(fit.spreadVariance).toBe(0);
    expect(fit.se).toBeCloseTo(0.5 / Math.SQRT2, 12);
    expect(fit.iSquared).toBe(0);
  });

  it("gives one winter's own estimate and says that it is one", () => {
    expect(randomEffects([{ estimate: 1, se: 0.5 }], 0.95)).toMatchObject({
      mean: 1,
      se: null,
      limits: null,
      spreadVariance: null,
      reason: "one winter",
    });
  });
});

describe("pooledSurvival", () => {
  it("answers where none or all stood, and from many plants or hardly one", () => {
    for (const winters of [
      [{ standing: 0, effectivePlants: 12 }],
      [{ standing: 12, effectivePlants: 12 }],
      [
        { standing: 500, effectivePlants: 500 },
        { standing: 499, effectivePlants: 500 },
      ],
      [{ standing: 0.2, effectivePlants: 0.5 }],
    ]) {
      const { typical, another, atLeastFloor } = pooledSurvival(winters, 1, 0.5, 0.95);
      for (const { low, estimate, high } of [typical, another]) {
        expect(low).toBeGreaterThan(0);
        expect(estimate).toBeGreaterThan(low);
        expect(high).toBeGreaterThan(estimate);
        expect(high).toBeLessThan(1);
      }
      expect(atLeastFloor?.another).toBeGreaterThan(0);
      expect(atLeastFloor?.another).toBeLessThan(1);
    }
  });

  it("with hardly a plant gives back the prior: a middle of one half", () => {
    const prior = pooledSurvival([{ standing: 5e-7, effectivePlants: 1e-6 }], 1, 0.5, 0.95);
    expect(prior.typical.estimate).toBeCloseTo(0.5, 5);
    expect(Math.log(prior.typical.high / (1 - prior.typical.high))).toBeCloseTo(2.5 * 1.959964, 3);
    expect(prior.spread).toBeCloseTo(Math.sqrt(2 / Math.PI), 5);
  });

  it("refuses more standing than there were", () => {
    expect(() => pooledSurvival([{ standing: 5, effectivePlants: 4 }], 1, null, 0.95)).toThrow(
      "pooledSurvival requires 0 ≤ standing ≤ effectivePlants; got 5 of 4",
    );
  });
});

describe("what they stand on", () => {
  it("finds a cluster's mode where Newton's method alone would leap to and fro", () => {
    const { mode } = interceptMode([-2.788366921245279], [500], [500], 2.244595591644997);
    const share = 1 / (1 + Math.exp(2.788366921245279 - 2.244595591644997 * mode));
    expect(-mode + 2.244595591644997 * 500 * (1 - share)).toBeCloseTo(0, 8);
  });

  it("finds a root by secants, and refuses where there is none", () => {
    expect(rootBySecant((x) => x ** 3 - 2, 0, 2, 1e-14)).toBeCloseTo(2 ** (1 / 3), 13);
    expect(() => rootBySecant((x) => x * x + 1, -1, 1, 1e-9)).toThrow(
      "rootBySecant requires a change of sign",
    );
  });
});
