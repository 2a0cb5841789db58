import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { aalenJohansen } from "@/lib/statistics/aalen-johansen";
import { binomialModel } from "@/lib/statistics/binomial-model";
import { contrast } from "@/lib/statistics/contrast";
import { countModel } from "@/lib/statistics/count-model";
import { coxRatio, coxRatios } from "@/lib/statistics/cox-ratios";
import { factor } from "@/lib/statistics/factor";
import { firthContrast, firthLogistic } from "@/lib/statistics/firth-logistic";
import { germination } from "@/lib/statistics/germination";
import { kaplanMeier } from "@/lib/statistics/kaplan-meier";
import { kaplanMeierLimits } from "@/lib/statistics/kaplan-meier-limits";
import { logRank } from "@/lib/statistics/log-rank";
import { pooledContrast } from "@/lib/statistics/pooled-contrast";
import { pooledSurvival } from "@/lib/statistics/pooled-survival";
import { probabilityOfSuperiority } from "@/lib/statistics/probability-of-superiority";
import { randomEffects } from "@/lib/statistics/random-effects";
import { restrictedMean } from "@/lib/statistics/restricted-mean";
import { type FollowedPlot, standingLimits } from "@/lib/statistics/standing-limits";
import { turnbull } from "@/lib/statistics/turnbull";

const run = { seed: 20261126, numRuns: 150 };

const plant = fc.record({
  time: fc.integer({ min: 0, max: 30 }),
  cause: fc.integer({ min: 0, max: 3 }),
  group: fc.integer({ min: 0, max: 2 }),
  block: fc.integer({ min: 0, max: 1 }),
});
const plants = fc.array(plant, { minLength: 1, maxLength: 40 });
type Plant = { time: number; cause: number; group: number; block: number };

const lifetimesOf = (all: readonly Plant[]) => ({
  times: all.map(({ time }) => time),
  causes: all.map(({ cause }) => cause),
});
const groupedOf = (all: readonly Plant[]) => ({
  ...lifetimesOf(all),
  groups: all.map(({ group }) => group),
  blocks: all.map(({ block }) => block),
});
const close = (a: number | null, b: number | null, digits = 9) => {
  if (a === null || b === null) expect(a).toBe(b);
  else expect(a).toBeCloseTo(b, digits);
};

describe("plants followed over time", () => {
  it("in another order give the same curve, which only falls and stays in range", () => {
    fc.assert(
      fc.property(plants, (all) => {
        const curve = kaplanMeier(lifetimesOf(all));
        expect(kaplanMeier(lifetimesOf([...all].reverse()))).toEqual(curve);
        let before = 1;
        for (const share of curve.share) {
          expect(share).toBeGreaterThanOrEqual(0);
          expect(share).toBeLessThanOrEqual(before);
          before = share;
        }
        for (const scale of ["plain", "log–log"] as const) {
          const { low, high } = kaplanMeierLimits(curve, scale, 0.9);
          curve.share.forEach((share, at) => {
            if (low[at] === null) return;
            expect(low[at]).toBeLessThanOrEqual(share);
            expect(high[at]).toBeGreaterThanOrEqual(share);
          });
        }
        const { mean } = restrictedMean(curve, 12);
        if (mean !== null) expect(mean).toBeLessThanOrEqual(12);
      }),
      run,
    );
  });

  it("lose shares to causes that, with those standing, add up to all", () => {
    fc.assert(
      fc.property(plants, (all) => {
        const { share } = kaplanMeier(lifetimesOf(all));
        const { causes, times } = aalenJohansen(lifetimesOf(all), 3);
        for (let at = 0; at < times.length; at += 1) {
          expect(causes.reduce((sum, cause) => sum + cause.share[at], share[at])).toBeCloseTo(1, 12);
          for (const cause of causes) expect(cause.variance[at]).toBeGreaterThanOrEqual(0);
        }
        const swapped = all.map((one) => ({ ...one, cause: one.cause === 0 ? 0 : 4 - one.cause }));
        expect(aalenJohansen(lifetimesOf(swapped), 3).causes[2].share).toEqual(causes[0].share);
      }),
      run,
    );
  });

  it("differ as much whatever their groups are called, and lose in all what is expected in all", () => {
    fc.assert(
      fc.property(plants, (all) => {
        const renamed = all.map((one) => ({ ...one, group: (one.group + 1) % 3 }));
        for (const weight of ["log-rank", "peto"] as const) {
          const test = logRank(groupedOf(all), 3, weight);
          const again = logRank(groupedOf(renamed), 3, weight);
          close(again.chiSquare, test.chiSquare, 7);
          expect(again.df).toBe(test.df);
          const sum = (values: number[]) => values.reduce((total, value) => total + value, 0);
          expect(sum(test.observed)).toBeCloseTo(sum(test.expected), 9);
        }
        const ratio = coxRatio(coxRatios(groupedOf(all), 3), 0, 1, 0.95);
        const same = coxRatio(coxRatios(groupedOf(renamed), 3), 2, 1, 0.95);
        const turned = coxRatio(coxRatios(groupedOf(all), 3), 1, 0, 0.95);
        close(ratio === null ? null : -ratio.estimate, turned?.estimate ?? null, 6);
        const first = coxRatio(coxRatios(groupedOf(renamed), 3), 1, 2, 0.95);
        close(ratio?.estimate ?? null, first?.estimate ?? null, 6);
        close(same === null ? null : -same.estimate, first?.estimate ?? null, 6);
      }),
      run,
    );
  });

  it("seen through windows: the order tells nothing, two plants are one of weight two, all mass is given out", () => {
    const window = fc.tuple(fc.integer({ min: 0, max: 20 }), fc.integer({ min: 0, max: 25 }), fc.boolean());
    fc.assert(
      fc.property(fc.array(window, { minLength: 1, maxLength: 25 }), (all) => {
        const windows = all.map(([left, length, endless]) => ({
          left,
          right: endless ? Number.POSITIVE_INFINITY : left + length,
          plants: 1,
        }));
        const fit = turnbull(windows);
        expect(fit.violation).toBeLessThanOrEqual(1e-8);
        expect(fit.stretches.reduce((sum, { mass }) => sum + mass, 0)).toBeCloseTo(1, 12);
        const back = turnbull([...windows].reverse());
        expect(back.logLikelihood).toBeCloseTo(fit.logLikelihood, 7);
        const twice = turnbull(windows.flatMap((one) => [one, one]));
        const weighed = turnbull(windows.map((one) => ({ ...one, plants: 2 })));
        expect(twice.logLikelihood).toBeCloseTo(weighed.logLikelihood, 7);
        expect(weighed.logLikelihood).toBeCloseTo(2 * fit.logLikelihood, 7);
      }),
      run,
    );
  });

  it("in plots: limits hold the share and stay in range, whatever plots' order and varieties' names", () => {
    const plot = fc.record({
      variety: fc.constantFrom("a", "b", "c"),
      block: fc.constantFrom("1", "2", "3"),
      plants: fc.array(plant, { maxLength: 8 }),
    });
    fc.assert(
      fc.property(fc.array(plot, { minLength: 1, maxLength: 9 }), (all) => {
        const plots: FollowedPlot[] = all.map(({ variety, block, plants: own }) => ({
          variety,
          block,
          row: null,
          column: null,
          ...lifetimesOf(own),
        }));
        const { varieties } = standingLimits(plots, "rcbd", [7, 15, 30], 0.95);
        const renamed = plots.map((one) => ({ ...one, variety: `${one.variety} again` })).reverse();
        const again = standingLimits(renamed, "rcbd", [7, 15, 30], 0.95).varieties;
        for (const { variety, steps } of varieties) {
          const same = again.find((one) => one.variety === `${variety} again`);
          for (const [at, { share, low, high, effectivePlants }] of steps.entries()) {
            close(low, same?.steps[at].low ?? null);
            close(high, same?.steps[at].high ?? null);
            if (share === null || low === null || high === null) continue;
            expect(low).toBeGreaterThanOrEqual(0);
            expect(high).toBeLessThanOrEqual(1);
            expect(low).toBeLessThanOrEqual(share + 1e-12);
            expect(high).toBeGreaterThanOrEqual(share - 1e-12);
            expect(high - low).toBeGreaterThan(0);
            expect(effectivePlants).toBeGreaterThan(0);
          }
        }
      }),
      run,
    );
  });
});

describe("models of counts", () => {
  const row = fc
    .tuple(fc.integer({ min: 0, max: 9 }), fc.nat())
    .map(([setOut, draw]) => ({ setOut, hits: setOut === 0 ? 0 : draw % (setOut + 1) }));
  const rows = fc.array(row, { minLength: 6, maxLength: 6 });
  const variety = factor("variety", ["a", "a", "b", "b", "c", "c"]);
  const terms = [["variety"]];
  const b = Float64Array.of(0, 1, 0);
  const turnedOver = (all: { hits: number; setOut: number }[]) => ({
    hits: all.map(({ hits, setOut }) => setOut - hits),
    setOut: all.map(({ setOut }) => setOut),
  });
  const asTheyAre = (all: { hits: number; setOut: number }[]) => ({
    hits: all.map(({ hits }) => hits),
    setOut: all.map(({ setOut }) => setOut),
  });

  it("count the lost for the standing: log odds change sign, and nothing is ever NaN", () => {
    fc.assert(
      fc.property(rows, (all) => {
        const one = contrast(binomialModel(asTheyAre(all), [variety], terms, "pearson"), b, 0.95);
        const other = contrast(binomialModel(turnedOver(all), [variety], terms, "pearson"), b, 0.95);
        expect(one.reason).toBe(other.reason);
        close(one.estimate, other.estimate === null ? null : -other.estimate, 7);
        close(one.low, other.high === null ? null : -other.high, 6);
        for (const value of Object.values(one)) expect(value).not.toBeNaN();
      }),
      run,
    );
  });

  it("by Firth have finite limits about a finite estimate wherever varieties hold plants", () => {
    fc.assert(
      fc.property(rows, (all) => {
        const limits = firthContrast(firthLogistic(asTheyAre(all), [variety], terms), b, 0.95);
        const held = [0, 1].every((at) => all[2 * at].setOut + all[2 * at + 1].setOut > 0);
        expect(limits.reason).toBe(held ? null : "not estimable");
        if (limits.estimate === null || limits.low === null || limits.high === null) return;
        expect(limits.low).toBeLessThan(limits.estimate);
        expect(limits.high).toBeGreaterThan(limits.estimate);
        const turned = firthContrast(firthLogistic(turnedOver(all), [variety], terms), b, 0.95);
        close(limits.low, turned.high === null ? null : -turned.high, 6);
      }),
      { ...run, numRuns: 60 },
    );
  });

  it("on ten times the ground: rates fall by ten and ratios stay", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 30 }), { minLength: 6, maxLength: 6 }), (counts) => {
        const fits = [1, 10].map((ground) =>
          countModel({ counts, exposure: counts.map(() => ground) }, [variety], terms, "quasi-poisson"),
        );
        const [one, ten] = fits.map((model) => contrast(model, b, 0.95));
        close(one.estimate, ten.estimate, 8);
        close(one.low, ten.low, 7);
        expect(fits[0].deviance).toBeCloseTo(fits[1].deviance, 8);
      }),
      run,
    );
  });

  it("of scores: who beats whom adds up to one, and limits mirror", () => {
    const scores = fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(scores, scores, (one, other) => {
        const forth = probabilityOfSuperiority(one, other, 0.95);
        const back = probabilityOfSuperiority(other, one, 0.95);
        expect((forth.estimate as number) + (back.estimate as number)).toBeCloseTo(1, 12);
        expect((forth.low as number) + (back.high as number)).toBeCloseTo(1, 9);
        expect(forth.low).toBeLessThan(forth.high as number);
      }),
      run,
    );
  });

  it("of seedlings: a later look that finds none changes nothing", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 1, maxLength: 8 }), (newly) => {
        const looks = newly.map((count, at) => ({ day: at + 1, newly: count }));
        const later = [...looks, { day: looks.length + 5, newly: 0 }];
        expect(germination(later, 100, 0.95)).toEqual(germination(looks, 100, 0.95));
      }),
      run,
    );
  });
});

describe("several winters", () => {
  const winter = fc.record({
    estimate: fc.double({ min: -3, max: 3, noNaN: true }),
    se: fc.double({ min: 0.05, max: 1, noNaN: true }),
  });
  const winters = fc.array(winter, { minLength: 1, maxLength: 5 });

  it("shifted shift the mean and limits; another winter is never told better than the mean", () => {
    fc.assert(
      fc.property(winters, (all) => {
        const pooled = pooledContrast(all, 0.5, 0, 0.95);
        const moved = pooledContrast(
          all.map(({ estimate, se }) => ({ estimate: estimate + 2, se })),
          0.5,
          2,
          0.95,
        );
        expect(moved.mean.low).toBeCloseTo(pooled.mean.low + 2, 8);
        expect(moved.another.high).toBeCloseTo(pooled.another.high + 2, 8);
        expect(moved.atLeastFloor?.another).toBeCloseTo(pooled.atLeastFloor?.another as number, 8);
        expect(pooled.another.high - pooled.another.low).toBeGreaterThan(pooled.mean.high - pooled.mean.low);
        const restricted = randomEffects(all, 0.95);
        expect(restricted.reason).toBe(all.length === 1 ? "one winter" : null);
        if (restricted.spreadVariance !== null) expect(restricted.spreadVariance).toBeGreaterThanOrEqual(0);
      }),
      { ...run, numRuns: 60 },
    );
  });

  it("of survival: the lost counted for the standing turn shares over", () => {
    const count = fc
      .tuple(fc.double({ min: 1, max: 40, noNaN: true }), fc.double({ min: 0, max: 1, noNaN: true }))
      .map(([effectivePlants, share]) => ({ effectivePlants, standing: share * effectivePlants }));
    fc.assert(
      fc.property(fc.array(count, { minLength: 1, maxLength: 3 }), (all) => {
        const pooled = pooledSurvival(all, 1, 0.4, 0.9);
        const turned = pooledSurvival(
          all.map(({ effectivePlants, standing }) => ({
            effectivePlants,
            standing: effectivePlants - standing,
          })),
          1,
          0.6,
          0.9,
        );
        expect(pooled.typical.low + turned.typical.high).toBeCloseTo(1, 5);
        expect(pooled.another.estimate + turned.another.estimate).toBeCloseTo(1, 5);
        const together = (pooled.atLeastFloor?.another as number) + (turned.atLeastFloor?.another as number);
        expect(together).toBeCloseTo(1, 5);
        expect(pooled.another.low).toBeLessThanOrEqual(pooled.typical.low + 1e-6);
      }),
      { ...run, numRuns: 6 },
    );
  });
});
