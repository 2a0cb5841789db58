import { describe, expect, it } from "vitest";
import { kaplanMeier, standingAt } from "@/lib/statistics/kaplan-meier";
import { kaplanMeierLimits } from "@/lib/statistics/kaplan-meier-limits";
import { restrictedMean } from "@/lib/statistics/restricted-mean";
import { standingQuantile } from "@/lib/statistics/standing-quantile";

// As small as it can be with every case in it: two lost on one day, one lost and one censored on one day, one lost
// alone, one censored alone.
const plants = { times: [1, 1, 2, 2, 3, 4], causes: [1, 1, 1, 0, 1, 0] };

describe("kaplanMeier", () => {
  it("gives the shares and Greenwood variances worked by hand", () => {
    const curve = kaplanMeier(plants);
    expect(Array.from(curve.times)).toEqual([1, 2, 3, 4]);
    expect(Array.from(curve.atRisk)).toEqual([6, 4, 2, 1]);
    expect(Array.from(curve.lost)).toEqual([2, 1, 1, 0]);
    expect(Array.from(curve.censored)).toEqual([0, 1, 0, 1]);
    const byHand = [4 / 6, 1 / 2, 1 / 4, 1 / 4];
    const sums = [2 / 24, 2 / 24 + 1 / 12, 2 / 24 + 1 / 12 + 1 / 2, 2 / 24 + 1 / 12 + 1 / 2];
    for (const [at, share] of byHand.entries()) {
      expect(curve.share[at]).toBeCloseTo(share, 14);
      expect(curve.variance[at]).toBeCloseTo(share * share * sums[at], 14);
    }
  });

  it("counts a plant censored on a day as seen standing that day, and not after it", () => {
    const curve = kaplanMeier(plants);
    expect(standingAt(curve, 0)).toEqual({ share: 1, variance: 0, followed: 6, lostSoFar: 0 });
    expect(standingAt(curve, 2)).toMatchObject({ followed: 3, lostSoFar: 3 });
    expect(standingAt(curve, 2.5)).toMatchObject({ followed: 2, lostSoFar: 3 });
    expect(standingAt(curve, 4)).toMatchObject({ followed: 1, lostSoFar: 4 });
    expect(standingAt(curve, 5)).toMatchObject({ followed: 0, lostSoFar: 4 });
  });

  it("ends at exactly 0 when all are lost, stays at 1 when none are, and is empty without plants", () => {
    const allLost = kaplanMeier({ times: [5, 5, 9], causes: [1, 2, 1] });
    expect(Array.from(allLost.share).at(-1)).toBe(0);
    expect(Array.from(allLost.variance).at(-1)).toBe(0);
    const noneLost = kaplanMeier({ times: [5, 9], causes: [0, 0] });
    expect(Array.from(noneLost.share)).toEqual([1, 1]);
    expect(kaplanMeier({ times: [], causes: [] }).times).toHaveLength(0);
  });

  it("refuses a time that is not a number, and a cause that is no cause", () => {
    expect(() => kaplanMeier({ times: [Number.NaN], causes: [1] })).toThrow(
      "kaplanMeier requires finite times ≥ 0; got NaN",
    );
    expect(() => kaplanMeier({ times: [1], causes: [0.5] })).toThrow(
      "kaplanMeier requires causes 0, 1, 2 …; got 0.5",
    );
    expect(() => kaplanMeier({ times: [1], causes: [] })).toThrow("as many causes as times");
  });
});

describe("limits that take plants as independent", () => {
  it("are missing, not of no width, where none or all are lost", () => {
    const curve = kaplanMeier({ times: [1, 2, 2], causes: [0, 1, 1] });
    for (const scale of ["plain", "log–log"] as const)
      expect(kaplanMeierLimits(curve, scale, 0.95)).toEqual({ low: [null, null], high: [null, null] });
  });
});

describe("standingQuantile", () => {
  const median = (times: number[], causes: number[]) => {
    const curve = kaplanMeier({ times, causes });
    return standingQuantile(curve, 0.5, kaplanMeierLimits(curve, "log–log", 0.95)).time;
  };

  it("takes the first day at or below one half", () => {
    expect(median([1, 2, 3], [1, 1, 1])).toBe(2);
  });

  it("takes the middle of a stretch that lies at one half", () => {
    expect(median([1, 2, 3, 4], [1, 1, 1, 1])).toBe(2.5);
    expect(median([1, 2, 3, 4], [1, 1, 0, 1])).toBe(3);
    expect(median([1, 2, 3, 4], [1, 1, 0, 0])).toBe(3);
  });

  it("is missing where half are never lost", () => {
    expect(median([1, 2, 3, 4], [1, 0, 0, 0])).toBeNull();
  });
});

describe("restrictedMean", () => {
  it("is the area by hand: 1 + 2/3 + 1/2 + 1/4 to day 4", () => {
    const { mean, se } = restrictedMean(kaplanMeier(plants), 4);
    expect(mean).toBeCloseTo(1 + 2 / 3 + 1 / 2 + 1 / 4, 14);
    const areas = [2 / 3 + 1 / 2 + 1 / 4, 1 / 2 + 1 / 4, 1 / 4];
    const variance = (areas[0] ** 2 * 2) / 24 + areas[1] ** 2 / 12 + areas[2] ** 2 / 2;
    expect(se).toBeCloseTo(Math.sqrt(variance), 14);
  });

  it("says nothing of a window longer than plants were watched, unless all are lost", () => {
    expect(restrictedMean(kaplanMeier(plants), 10)).toEqual({
      mean: null,
      se: null,
      reason: "not watched that long",
    });
    expect(restrictedMean(kaplanMeier({ times: [1, 3], causes: [1, 1] }), 10).mean).toBe(2);
    expect(restrictedMean(kaplanMeier({ times: [], causes: [] }), 10).reason).toBe("no plants");
  });
});
