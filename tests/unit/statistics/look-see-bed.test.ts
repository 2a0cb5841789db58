import { describe, expect, it } from "vitest";
import { effectivePlants } from "@/lib/statistics/effective-plants";
import { type LookSeePlot, lookSeeBed } from "@/lib/statistics/look-see-bed";

const plot = (variety: string, x: number, standing: number, setOut = 6): LookSeePlot => ({
  plot: `${variety} at ${x}`,
  variety,
  isCheck: variety === "check",
  x,
  y: 0,
  setOut,
  standing,
});
const checks = [plot("check", 0, 5), plot("check", 30, 3), plot("check", 60, 6)];

describe("lookSeeBed", () => {
  const bed = lookSeeBed([...checks, plot("a", 10, 6), plot("b", 50, 0)], 0.95);

  it("knows clumping from the checks alone", () => {
    const alone = effectivePlants(
      checks.map((each) => ({ ...each, block: null, row: null, column: null })),
      "crd",
      0.95,
    );
    expect(bed.dispersion).toEqual(alone.dispersion);
    expect(bed.dispersion.df).toBe(2);
    expect(bed.clumping.weight).toEqual(alone.clumping.weight);
  });

  it("sets each entry against the two checks nearest to it", () => {
    expect(bed.entries.map((entry) => entry.nearestChecks)).toEqual([
      ["check at 0", "check at 30"],
      ["check at 60", "check at 30"],
    ]);
    expect(bed.entries[0].difference?.estimate).toBeCloseTo(1 - 8 / 12, 14);
    expect(bed.entries[1].difference?.estimate).toBeCloseTo(0 - 9 / 12, 14);
    expect(bed.entries[1].difference?.high).toBeLessThan(0);
  });

  it("falls back on the prior with one check, and has no difference without one or without plants", () => {
    const one = lookSeeBed([checks[0], plot("a", 10, 6), plot("b", 20, 0, 0)], 0.95);
    expect(one.dispersion.df).toBe(0);
    expect(one.entries[0].nearestChecks).toHaveLength(1);
    expect(one.entries[1]).toMatchObject({ share: null, difference: null });
    expect(lookSeeBed([plot("a", 10, 6)], 0.95).entries[0].difference).toBeNull();
  });

  it("refuses two checks and impossible counts", () => {
    const other = { ...plot("other", 5, 1), isCheck: true };
    expect(() => lookSeeBed([...checks, other], 0.95)).toThrow(
      "lookSeeBed requires one check variety; got several",
    );
    expect(() => lookSeeBed([plot("a", 0, 7)], 0.95)).toThrow(
      "lookSeeBed requires 0 ≤ standing ≤ setOut; got 7 of 6",
    );
  });
});
