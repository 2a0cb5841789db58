import { describe, expect, it } from "vitest";
import { effectivePlants } from "@/lib/statistics/effective-plants";
import type { PlotCount } from "@/lib/statistics/plot-count";
import { wilsonInterval } from "@/lib/statistics/wilson-interval";

/** Standing counts by variety and block, with the plants set out in every plot. */
function blocks(standing: number[][], setOut: number): PlotCount[] {
  return standing.flatMap((row, variety) =>
    row.map((count, block) => ({
      variety: `v${variety}`,
      block: `b${block}`,
      row: null,
      column: null,
      setOut,
      standing: count,
    })),
  );
}

const plain = (plots: PlotCount[]) => plots.map((plot) => ({ ...plot, block: null }));

describe("effectivePlants", () => {
  it("gives the agreed check value to 11 digits", () => {
    const result = effectivePlants(
      blocks(
        [
          [7, 5, 8],
          [4, 2, 6],
          [8, 7, 8],
          [1, 0, 3],
        ],
        8,
      ),
      "rcbd",
      0.95,
    );
    expect(result.dispersion.f).toBeCloseTo(0.392471926714, 11);
    expect(result.dispersion.effectiveDf).toBeCloseTo(4.96907566766, 10);
    expect(result.varieties[0].multiplier).toBeCloseTo(2.4045277711, 10);
    expect(result.varieties[0].effectivePlants).toBeCloseTo(15.9458556788, 9);
  });

  it("is Wilson's interval itself where every plot holds one plant", () => {
    const result = effectivePlants(
      blocks(
        [
          [1, 0, 1, 1],
          [0, 0, 1, 0],
        ],
        1,
      ),
      "rcbd",
      0.95,
    );
    const { low, high, effectivePlants: plants } = result.varieties[0];
    const wilson = wilsonInterval(3, 4, 0.95);
    expect(plants).toBeCloseTo(4, 12);
    expect(low).toBeCloseTo(wilson.low, 12);
    expect(high).toBeCloseTo(wilson.high, 12);
  });

  it("falls back on the prior alone with one plot a variety, or one block", () => {
    for (const plots of [plain(blocks([[7], [4]], 8)), blocks([[7], [4]], 8)]) {
      const layout = plots[0].block === null ? "crd" : "rcbd";
      const result = effectivePlants(plots, layout, 0.95);
      expect(result.dispersion).toEqual({ f: null, df: 0, effectiveDf: 0, clusterSize: 1 });
      expect(result.clumping.mean).toBeCloseTo(0.25, 12);
      const low = result.varieties[0].low ?? Number.NaN;
      expect(low).toBeLessThan(wilsonInterval(7, 8, 0.95).low);
    }
  });

  it("has limits of some width where none, or all, were lost", () => {
    const result = effectivePlants(
      blocks(
        [
          [8, 8, 8],
          [0, 0, 0],
        ],
        8,
      ),
      "rcbd",
      0.95,
    );
    const [all, none] = result.varieties;
    expect([all.high, none.low]).toEqual([1, 0]);
    expect(all.low).toBeLessThan(0.95);
    expect(none.high).toBeGreaterThan(0.05);
  });

  it("takes no notice of a plot with nothing set out, and has no number for a variety without plants", () => {
    const full = blocks(
      [
        [7, 5, 8],
        [4, 2, 6],
      ],
      8,
    );
    const empty = { variety: "v2", block: "b0", row: null, column: null, setOut: 0, standing: 0 };
    const without = effectivePlants(full, "rcbd", 0.95);
    const withEmpty = effectivePlants([...full, empty], "rcbd", 0.95);
    expect(withEmpty.varieties.slice(0, 2)).toEqual(without.varieties);
    expect(withEmpty.varieties[2]).toMatchObject({ plots: 0, share: null, low: null, effectivePlants: null });
  });

  it("works where a variety misses a block, and with 2 and 60 varieties", () => {
    const missing = blocks(
      [
        [7, 5, 8],
        [4, 2, 6],
        [8, 7, 8],
      ],
      8,
    ).filter((plot) => !(plot.variety === "v1" && plot.block === "b2"));
    expect(effectivePlants(missing, "rcbd", 0.95).dispersion.df).toBe(3);
    const many = Array.from({ length: 60 }, (_, variety) => [variety % 9, (variety * 5) % 9]);
    const result = effectivePlants(blocks(many, 8), "rcbd", 0.95, 59);
    expect(result.dispersion.df).toBe(59);
    for (const { share, low, high } of result.varieties) {
      expect(low).toBeLessThanOrEqual(share ?? Number.NaN);
      expect(high).toBeGreaterThanOrEqual(share ?? Number.NaN);
    }
  });

  it("fits rows and columns of a Latin square", () => {
    const letters = ["abc", "bca", "cab"];
    const plots = letters.flatMap((word, row) =>
      [...word].map((variety, column) => ({
        variety,
        block: null,
        row,
        column,
        setOut: 8,
        standing: row + column,
      })),
    );
    const result = effectivePlants(plots, "latin", 0.95);
    expect(result.dispersion.df).toBe(2);
    expect(result.dispersion.f).toBeCloseTo(0, 12);
  });

  it("widens for a family, whose level it returns", () => {
    const plots = blocks(
      [
        [7, 5, 8],
        [4, 2, 6],
        [8, 7, 8],
        [1, 0, 3],
      ],
      8,
    );
    const one = effectivePlants(plots, "rcbd", 0.95);
    const family = effectivePlants(plots, "rcbd", 0.95, 3);
    expect(family.level).toBeCloseTo(1 - 0.05 / 3, 14);
    expect(family.varieties[0].low).toBeLessThan(one.varieties[0].low ?? Number.NaN);
  });

  it("refuses impossible counts and a plot without its block, in the one grammar", () => {
    expect(() => effectivePlants(blocks([[9]], 8), "rcbd", 0.95)).toThrow(
      "effectivePlants requires 0 ≤ standing ≤ setOut; got 9 of 8",
    );
    expect(() => effectivePlants(blocks([[Number.NaN]], 8), "rcbd", 0.95)).toThrow("got NaN of 8");
    expect(() => effectivePlants(plain(blocks([[7]], 8)), "rcbd", 0.95)).toThrow(
      "requires a block for every plot",
    );
    expect(() => effectivePlants(blocks([[7]], 8), "rcbd", 1)).toThrow("requires 0 < level < 1; got 1");
  });
});
