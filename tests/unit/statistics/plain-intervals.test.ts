import { describe, expect, it } from "vitest";
import { agrestiCoullInterval } from "@/lib/statistics/agresti-coull-interval";
import { clopperPearsonInterval } from "@/lib/statistics/clopper-pearson-interval";
import { cochranMantelHaenszel } from "@/lib/statistics/cochran-mantel-haenszel";
import { fisherExact } from "@/lib/statistics/fisher-exact";
import { jeffreysInterval } from "@/lib/statistics/jeffreys-interval";
import { mantelHaenszelDifference } from "@/lib/statistics/mantel-haenszel-difference";
import { mantelHaenszelOddsRatio } from "@/lib/statistics/mantel-haenszel-odds-ratio";
import { miettinenNurminenDifference } from "@/lib/statistics/miettinen-nurminen-difference";
import type { PlotCount } from "@/lib/statistics/plot-count";
import { publishedDesignEffect } from "@/lib/statistics/published-design-effect";

describe("intervals that take plants as independent", () => {
  it("give limits by hand for 0 of n: 1 − (α/2)^(1/n), and its mirror", () => {
    expect(clopperPearsonInterval(0, 10, 0.95).high).toBeCloseTo(1 - 0.025 ** 0.1, 13);
    expect(clopperPearsonInterval(10, 10, 0.95).low).toBeCloseTo(0.025 ** 0.1, 13);
  });

  it("refuse impossible counts, in the one grammar", () => {
    expect(() => clopperPearsonInterval(2.5, 4, 0.95)).toThrow(
      "clopperPearsonInterval requires whole counts",
    );
    expect(() => jeffreysInterval(5, 4, 0.95)).toThrow("jeffreysInterval requires 0 ≤ standing ≤ setOut");
    expect(() => agrestiCoullInterval(Number.NaN, 4, 0.95)).toThrow("got NaN of 4");
    const [a, b] = [
      { standing: 1, setOut: 0 },
      { standing: 1, setOut: 2 },
    ];
    expect(() => miettinenNurminenDifference(a, b, 0.95)).toThrow("got 1 of 0");
    expect(() => fisherExact(a, b, 0.95)).toThrow(
      "fisherExact requires whole counts with 0 ≤ standing ≤ setOut",
    );
  });

  it("Fisher's odds ratio of one plant against one is 0 or endless", () => {
    const test = fisherExact({ standing: 0, setOut: 1 }, { standing: 1, setOut: 1 }, 0.95);
    expect(test).toMatchObject({ p: 1, oddsRatio: 0, low: 0 });
  });
});

describe("counts in blocks", () => {
  const block = (x: number, n: number, y: number, m: number) => ({
    a: { standing: x, setOut: n },
    b: { standing: y, setOut: m },
  });

  it("one block is the plain difference and odds ratio", () => {
    expect(mantelHaenszelDifference([block(3, 4, 1, 4)], 0.95)?.estimate).toBeCloseTo(0.5, 14);
    expect(mantelHaenszelOddsRatio([block(3, 4, 1, 4)], 0.95)?.estimate).toBeCloseTo(9, 13);
  });

  it("have no answer where no block tells anything", () => {
    expect(mantelHaenszelDifference([block(3, 4, 0, 0)], 0.95)).toBeNull();
    expect(mantelHaenszelOddsRatio([block(4, 4, 4, 4)], 0.95)).toBeNull();
    expect(cochranMantelHaenszel([block(4, 4, 4, 4)], true)).toBeNull();
    expect(() => mantelHaenszelDifference([], 0.95)).toThrow(
      "mantelHaenszelDifference requires at least one block",
    );
  });
});

describe("publishedDesignEffect", () => {
  const plots = (standing: number[][], setOut: number): PlotCount[] =>
    standing.flatMap((row, variety) =>
      row.map((count) => ({
        variety: `v${variety}`,
        block: null,
        row: null,
        column: null,
        setOut,
        standing: count,
      })),
    );

  it("has the ICC by hand for two plots, all and none", () => {
    // MSB = 4(½² + ½²) = 2, MSW = 0, n0 = 4: (2 − 0)/(2 + 3 × 0) = 1.
    expect(publishedDesignEffect(plots([[4, 0]], 4), 0.95).icc).toBeCloseTo(1, 14);
    expect(publishedDesignEffect(plots([[2, 2]], 4), 0.95).icc).toBe(0);
    expect(publishedDesignEffect(plots([[4, 4]], 4), 0.95).icc).toBe(0);
  });

  it("has none for single plots, or plots of one plant", () => {
    expect(publishedDesignEffect(plots([[3], [1]], 4), 0.95)).toMatchObject({ icc: null, df: 0 });
    expect(publishedDesignEffect(plots([[1, 0]], 1), 0.95).varieties[0].low).toBeNull();
  });
});
