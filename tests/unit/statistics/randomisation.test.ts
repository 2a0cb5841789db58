import { describe, expect, it } from "vitest";
import { dealsOf } from "@/lib/statistics/deals";
import type { Layout, PlotCount } from "@/lib/statistics/plot-count";
import { randomStream } from "@/lib/statistics/random-stream";
import { smallestP } from "@/lib/statistics/smallest-p";
import { survivalRandomisation } from "@/lib/statistics/survival-randomisation";
import { yieldRandomisation } from "@/lib/statistics/yield-randomisation";
import { plainDeals, plainRandomisation } from "./plain-randomisation";

function plots(standing: number[][], setOut: number, layout: Layout): PlotCount[] {
  return standing.flatMap((row, variety) =>
    row.map((count, block) => ({
      variety: `v${layout === "latin" ? (variety + block) % standing.length : variety}`,
      block: layout === "rcbd" ? `b${block}` : null,
      row: layout === "latin" ? variety : null,
      column: layout === "latin" ? block : null,
      setOut,
      standing: count,
    })),
  );
}

const square = (order: number) =>
  plots(
    Array.from({ length: order }, (_, row) =>
      Array.from({ length: order }, (_, column) => (row * 3 + column * 5) % 9),
    ),
    9,
    "latin",
  );
const toCheck = (varieties: number): [string, string][] =>
  Array.from({ length: varieties - 1 }, (_, index) => [`v${index + 1}`, "v0"]);
const allPairs = (varieties: number): [string, string][] =>
  Array.from({ length: varieties }, (_, a) => a).flatMap((a) =>
    Array.from({ length: varieties - a - 1 }, (_, more): [string, string] => [`v${a}`, `v${a + more + 1}`]),
  );
const unequal = plots(
  [
    [7, 5, 8],
    [4, 2, 6],
    [1, 0, 3],
  ],
  8,
  "rcbd",
).map((plot, index) => ({
  ...plot,
  setOut: index === 4 ? 0 : 8 + (index % 3),
  standing: index === 4 ? 0 : plot.standing,
}));

function spelled(deals: PlotCount[], layout: Layout): Set<string> {
  const seen = new Set<string>();
  const { visitAll, varieties } = dealsOf(deals, layout);
  visitAll((labels) => seen.add([...labels].map((label) => varieties[label]).join(" ")));
  return seen;
}

describe("dealsOf", () => {
  it.each<[string, PlotCount[], Layout, number]>([
    [
      "anywhere",
      plots(
        [
          [1, 2],
          [3, 4],
          [5, 6],
        ],
        8,
        "crd",
      ),
      "crd",
      90,
    ],
    [
      "within blocks",
      plots(
        [
          [1, 2, 3],
          [3, 4, 5],
          [5, 6, 7],
        ],
        8,
        "rcbd",
      ),
      "rcbd",
      216,
    ],
    [
      "a check twice in each block",
      [
        ...plots(
          [
            [1, 2],
            [3, 4],
          ],
          8,
          "rcbd",
        ),
        ...plots([[1, 2]], 8, "rcbd"),
      ],
      "rcbd",
      9,
    ],
    ["a square of 3", square(3), "latin", 12],
    ["a square of 4", square(4), "latin", 576],
  ])("visits every deal once: %s", (_name, dealt, layout, count) => {
    expect(dealsOf(dealt, layout).count).toBe(count);
    const seen = spelled(dealt, layout);
    expect(seen.size).toBe(count);
    expect(seen).toEqual(new Set(plainDeals(dealt, layout).map((deal) => deal.join(" "))));
  });

  it("visits all 161,280 squares of order 5", () => {
    let squares = 0;
    dealsOf(square(5), "latin").visitAll(() => {
      squares += 1;
    });
    expect(squares).toBe(161_280);
  });

  it("draws each deal about as often as any other, with its design's counts", () => {
    const dealt = plots(
      [
        [1, 2],
        [3, 4],
        [5, 6],
      ],
      8,
      "rcbd",
    );
    const { draw, varieties } = dealsOf(dealt, "rcbd");
    const stream = randomStream(3);
    const tally = new Map<string, number>();
    for (let index = 0; index < 36_000; index += 1) {
      const deal = [...draw(stream)].map((label) => varieties[label]).join(" ");
      tally.set(deal, (tally.get(deal) ?? 0) + 1);
    }
    expect(tally.size).toBe(36);
    for (const count of tally.values()) expect(Math.abs(count - 1000)).toBeLessThan(150);
  });

  it("draws Latin squares of order 6 that are Latin squares", () => {
    const dealt = square(6);
    const labels = dealsOf(dealt, "latin").draw(randomStream(5));
    for (const key of ["row", "column"] as const)
      for (let line = 0; line < 6; line += 1)
        expect(
          new Set(dealt.flatMap((plot, index) => (plot[key] === line ? [labels[index]] : []))).size,
        ).toBe(6);
  });

  it("refuses a square that is not one", () => {
    expect(() => dealsOf(square(3).slice(1), "latin")).toThrow("each variety once in every row and column");
  });
});

describe("survivalRandomisation", () => {
  it.each<[string, PlotCount[], Layout, [string, string][]]>([
    [
      "blocks, all pairs",
      plots(
        [
          [7, 5, 8],
          [4, 2, 6],
          [1, 0, 3],
        ],
        8,
        "rcbd",
      ),
      "rcbd",
      allPairs(3),
    ],
    [
      "four varieties in two blocks, against the check",
      plots(
        [
          [7, 8],
          [4, 2],
          [1, 0],
          [8, 3],
        ],
        8,
        "rcbd",
      ),
      "rcbd",
      toCheck(4),
    ],
    ["unequal plots, one with nothing in it", unequal, "rcbd", allPairs(3)],
    [
      "without blocks, unequal numbers of plots",
      plots(
        [
          [7, 8],
          [4, 2],
          [1, 0, 2],
        ],
        8,
        "crd",
      ),
      "crd",
      allPairs(3),
    ],
    ["a Latin square", square(3), "latin", allPairs(3)],
    [
      "none lost",
      plots(
        [
          [8, 8],
          [8, 8],
        ],
        8,
        "rcbd",
      ),
      "rcbd",
      allPairs(2),
    ],
    ["one block", plots([[8], [3], [0]], 8, "rcbd"), "rcbd", allPairs(3)],
  ])("agrees with the plain twin: %s", (_name, dealt, layout, pairs) => {
    const test = survivalRandomisation(dealt, layout, pairs, 1, randomStream(1));
    const twin = plainRandomisation(dealt, layout, pairs);
    test.comparisons.forEach(({ p, pFamily, error }, index) => {
      expect(p).toBeCloseTo(twin[index].p, 12);
      expect(pFamily).toBeCloseTo(twin[index].pFamily, 12);
      expect(error).toBe(0);
    });
  });

  it("samples beyond 200,000 deals, never gives 0, and gives the same for the same seed", () => {
    const dealt = plots(
      [
        [8, 8, 8, 8],
        [0, 0, 0, 0],
        [4, 4, 4, 4],
        [5, 5, 5, 5],
        [3, 3, 3, 3],
      ],
      8,
      "rcbd",
    );
    const test = (seed: number) => survivalRandomisation(dealt, "rcbd", toCheck(5), 2000, randomStream(seed));
    expect(test(4)).toEqual(test(4));
    const [clear] = test(4).comparisons;
    expect(test(4)).toMatchObject({ enumerated: false, deals: 2001 });
    expect(clear.p).toBeGreaterThanOrEqual(1 / 2001);
    expect(clear.error).toBeCloseTo(Math.sqrt((clear.p * (1 - clear.p)) / 2000), 12);
  });

  it("comes near the exact p by sampling", () => {
    const dealt = plots(
      [
        [7, 5, 8, 6],
        [4, 2, 6, 5],
        [8, 7, 8, 5],
        [1, 4, 3, 6],
        [5, 5, 6, 4],
      ],
      8,
      "rcbd",
    );
    const one = survivalRandomisation(dealt, "rcbd", toCheck(5), 20_000, randomStream(1)).comparisons[2];
    const other = survivalRandomisation(dealt, "rcbd", toCheck(5), 20_000, randomStream(2)).comparisons[2];
    expect(Math.abs(one.pFamily - other.pFamily)).toBeLessThan(4 * Math.SQRT2 * one.errorFamily);
  });

  it("refuses a pair that is not in the layout", () => {
    expect(() => survivalRandomisation(square(3), "latin", [["v0", "v9"]], 1, randomStream(1))).toThrow(
      "survivalRandomisation requires pairs of varieties in the layout; got v0, v9",
    );
  });
});

describe("yieldRandomisation", () => {
  it("takes plots without a yield, and yields that are all the same", () => {
    const same = plots(
      [
        [1, 1, 1],
        [1, 1, 1],
      ],
      8,
      "rcbd",
    ).map((plot) => ({ ...plot, value: 0 }));
    expect(yieldRandomisation(same, "rcbd", [["v0", "v1"]], "t", 1, randomStream(1)).pairs[0].p).toBe(1);
    const gap = plots(
      [
        [1, 2, 3],
        [4, 5, 6],
        [7, 8, 9],
      ],
      9,
      "rcbd",
    ).map((plot, index) => ({
      ...plot,
      value: index === 0 ? null : plot.standing + index * 0.37,
    }));
    const test = yieldRandomisation(gap, "rcbd", [["v0", "v2"]], "t", 1, randomStream(1));
    expect(test.deals).toBe(216);
    expect(test.pairs[0].p).toBeGreaterThan(0);
    expect(test.pairs[0].p).toBeLessThan(0.2);
  });
});

describe("smallestP", () => {
  it.each([
    [3, 3, 0.02778, 0.01852],
    [3, 2, 0.16667, 0.11111],
    [4, 2, 0.08333, 0.04167],
    [5, 3, 0.0025, 0.001],
    [2, 4, 0.125, 0.125],
  ])("%i varieties in %i blocks", (varieties, blocks, all, check) => {
    const dealt = plots(
      Array.from({ length: varieties }, () => new Array(blocks).fill(1)),
      8,
      "rcbd",
    );
    expect(smallestP(dealt, "rcbd", allPairs(varieties))).toBeCloseTo(all, 5);
    expect(smallestP(dealt, "rcbd", toCheck(varieties))).toBeCloseTo(check, 5);
  });

  it("without blocks and in Latin squares", () => {
    const three = plots(
      [
        [1, 2],
        [3, 4],
        [5, 6],
      ],
      8,
      "crd",
    );
    expect(smallestP(three, "crd", allPairs(3))).toBeCloseTo(6 / 90, 12);
    expect(smallestP(three, "crd", toCheck(3))).toBeCloseTo(4 / 90, 12);
    expect(smallestP(square(3), "latin", allPairs(3))).toBeCloseTo(0.5, 12);
    expect(smallestP(square(3), "latin", toCheck(3))).toBeCloseTo(1 / 3, 12);
    expect(smallestP(square(6), "latin", toCheck(6))).toBeNull();
  });

  it("is what the clearest result attains by differences of means", () => {
    for (const [varieties, blocks] of [
      [3, 3],
      [4, 2],
    ]) {
      const dealt = plots(
        Array.from({ length: varieties }, (_, variety) =>
          Array.from({ length: blocks }, (_, block) => variety * 3 + block),
        ),
        20,
        "rcbd",
      ).map((plot, index) => ({ ...plot, value: plot.standing + 0.013 * index * index }));
      const pairs = allPairs(varieties);
      const found = yieldRandomisation(dealt, "rcbd", pairs, "difference", 1, randomStream(1)).pairs;
      const least = Math.min(...found.map((pair) => pair.pFamily));
      expect(least).toBeCloseTo(smallestP(dealt, "rcbd", pairs) ?? Number.NaN, 12);
    }
  });
});
