import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dealAlpha } from "@/lib/design/deal-alpha";
import { dealAugmented } from "@/lib/design/deal-augmented";
import { dealLatinSquare } from "@/lib/design/deal-latin-square";
import { dealSplitPlot } from "@/lib/design/deal-split-plot";
import { plotsOf } from "@/lib/design/fit-bed";
import { incompleteBlocks } from "@/lib/design/incomplete-blocks";
import { fitRequestOf, layOutTrial } from "@/lib/design/lay-out-trial";

const seeds = Array.from({ length: 4000 }, (_, seed) => seed * 7919);

function named(count: number, word = "entry"): string[] {
  return Array.from({ length: count }, (_, index) => `${word}-${index}`);
}

function sorted(names: readonly string[]): string {
  return [...names].sort().join();
}

/** Beyond 4.75 standard errors of a binomial count is no chance, even among the few hundred counts looked at here. */
function expectAsOften(count: number, chance: number): void {
  const expected = seeds.length * chance;
  const apart = Math.abs(count - expected) / Math.sqrt(expected * (1 - chance));
  expect(apart).toBeLessThan(4.75);
}

/** Every name counted at every place, over deals written as one list of names. */
function expectEvenPlaces(deals: string[][], names: readonly string[]): void {
  deals[0].forEach((_, place) => {
    for (const name of names)
      expectAsOften(deals.filter((deal) => deal[place] === name).length, 1 / names.length);
  });
}

describe("a Latin square", () => {
  it.each([2, 3, 4, 5, 6, 7, 9])(
    "of %i holds every variety once in each row and column, whatever the seed",
    (order) => {
      const entries = named(order);
      for (const seed of seeds.slice(0, 500)) {
        const square = dealLatinSquare(entries, seed);
        expect(square).toHaveLength(order);
        for (let line = 0; line < order; line += 1) {
          expect(new Set(square[line]).size).toBe(order);
          expect(new Set(square.map((row) => row[line])).size).toBe(order);
        }
      }
    },
  );

  it("comes up as each of the 12 squares of order 3, and as each of the 576 of order 4, equally often", () => {
    for (const [order, squares] of [
      [3, 12],
      [4, 576],
    ]) {
      const counts = new Map<string, number>();
      for (const seed of seeds) {
        const square = dealLatinSquare(named(order), seed).join();
        counts.set(square, (counts.get(square) ?? 0) + 1);
      }
      const expected = seeds.length / squares;
      const chiSquare =
        [...counts.values()].reduce((sum, count) => sum + (count - expected) ** 2 / expected, 0) +
        (squares - counts.size) * expected;
      expect(Math.abs(chiSquare - (squares - 1))).toBeLessThan(4 * Math.sqrt(2 * (squares - 1)));
    }
  });

  it.each([5, 6])("of %i gives every variety every place equally often", (order) => {
    const entries = named(order);
    expectEvenPlaces(
      seeds.map((seed) => dealLatinSquare(entries, seed).flat()),
      entries,
    );
  });
});

describe("a split plot", () => {
  const levels = ["fleece", "open ground", "tunnel"];
  const entries = named(4);

  it("holds every level once in a block and every variety once in a main plot, whatever the seed", () => {
    const isValid = (seed: number) => {
      const blocks = dealSplitPlot(levels, entries, 3, seed);
      return (
        blocks.length === 3 &&
        blocks.every((block) => sorted(block.map((main) => main.level)) === sorted(levels)) &&
        blocks.flat().every((main) => sorted(main.entries) === sorted(entries))
      );
    };
    expect(seeds.filter((seed) => !isValid(seed))).toEqual([]);
  });

  it("gives every level every main plot, and every variety every plot, equally often", () => {
    const deals = seeds.map((seed) => dealSplitPlot(levels, entries, 2, seed).flat());
    expectEvenPlaces(
      deals.map((deal) => deal.map((main) => main.level)),
      levels,
    );
    expectEvenPlaces(
      deals.map((deal) => deal.flatMap((main) => main.entries)),
      entries,
    );
  });

  it("deals each main plot by itself: one tells nothing of the next", () => {
    const deals = seeds.map((seed) => dealSplitPlot(levels, entries, 2, seed).flat());
    for (let first = 0; first < 4; first += 1)
      for (let second = 0; second < 4; second += 1)
        expectAsOften(
          deals.filter((deal) => deal[0].entries[first] === deal[1].entries[second]).length,
          1 / 4,
        );
  });
});

describe("an augmented layout", () => {
  it("holds the checks in every block and every other variety once, in blocks as even as they go", () => {
    const isValid = (seed: number) => {
      const news = 5 + (seed % 17);
      const blocks = 2 + (seed % 4);
      const deal = dealAugmented(named(news), ["check", "tender"], blocks, seed);
      const sizes = deal.map((block) => block.length);
      return (
        deal.length === blocks &&
        deal.every((block) =>
          ["check", "tender"].every((id) => block.filter((one) => one === id).length === 1),
        ) &&
        sorted(deal.flat().filter((id) => id.startsWith("entry"))) === sorted(named(news)) &&
        Math.max(...sizes) - Math.min(...sizes) <= 1
      );
    };
    expect(seeds.filter((seed) => !isValid(seed))).toEqual([]);
  });

  it("gives every new variety, and the check, every place equally often", () => {
    const entries = named(6);
    const deals = seeds.map((seed) => dealAugmented(entries, ["check"], 2, seed));
    for (let block = 0; block < 2; block += 1)
      for (let place = 0; place < 4; place += 1) {
        expectAsOften(deals.filter((deal) => deal[block][place] === "check").length, 1 / 4);
        for (const entry of entries)
          expectAsOften(deals.filter((deal) => deal[block][place] === entry).length, 1 / 8);
      }
  });
});

/** How often each two varieties stand in one block. */
function meetings(deal: { entries: string[] }[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const { entries } of deal)
    entries.forEach((one, index) => {
      for (const other of entries.slice(index + 1)) {
        const pair = [one, other].sort().join();
        counts.set(pair, (counts.get(pair) ?? 0) + 1);
      }
    });
  return counts;
}

describe("an alpha layout", () => {
  it("holds every variety once in a replicate, in blocks of two sizes at most, whatever the size and seed", () => {
    for (const seed of seeds.slice(0, 1500)) {
      const entries = 6 + (seed % 35);
      const replicates = 2 + (seed % 3);
      const most = 2 + (seed % 6);
      const shape = incompleteBlocks(entries, most);
      if (!shape) continue;
      const deal = dealAlpha(named(entries), replicates, most, seed);
      expect(deal).toHaveLength(replicates * shape.blocksPerReplicate);
      for (let replicate = 1; replicate <= replicates; replicate += 1) {
        const blocks = deal.filter((block) => block.replicate === replicate);
        expect(blocks.flatMap((block) => block.entries).sort()).toEqual(named(entries).sort());
        const sizes = blocks.map((block) => block.entries.length).sort();
        const smaller = sizes.filter((size) => size === shape.plotsPerBlock - 1).length;
        const larger = sizes.filter((size) => size === shape.plotsPerBlock).length;
        expect([smaller, smaller + larger]).toEqual([shape.smallerBlocks, shape.blocksPerReplicate]);
      }
    }
  });

  it("lets two varieties meet at most once in two replicates, and at most twice in three or four", () => {
    for (let entries = 4; entries <= 60; entries += 1)
      for (let most = 2; most <= 8; most += 1) {
        const shape = incompleteBlocks(entries, most);
        if (!shape) continue;
        for (const replicates of [2, 3, 4]) {
          const together = Math.max(
            ...meetings(dealAlpha(named(entries), replicates, most, entries)).values(),
          );
          const isPrime = [2, 3, 5, 7, 11, 13].includes(shape.blocksPerReplicate);
          const isOnce = replicates === 2 || (isPrime && replicates <= shape.blocksPerReplicate);
          expect(together).toBeLessThanOrEqual(isOnce ? 1 : 2);
        }
      }
  });

  it("gives every variety every place, and every two varieties their meetings, equally often", () => {
    const entries = named(9);
    const deals = seeds.map((seed) => dealAlpha(entries, 2, 3, seed));
    expectEvenPlaces(
      deals.map((deal) => deal.flatMap((block) => block.entries)),
      entries,
    );
    // 9 pairs in blocks of 3 in each of 2 replicates, none twice: 18 of 36 pairs meet.
    const met = deals.map(meetings);
    for (const one of entries)
      for (const other of entries)
        if (one < other) expectAsOften(met.filter((counts) => counts.has(`${one},${other}`)).length, 1 / 2);
  });

  it("is not to be had where two varieties would meet in every replicate", () => {
    expect(incompleteBlocks(10, 5)).toBeNull();
    expect(incompleteBlocks(12, 3)).toEqual({ blocksPerReplicate: 4, plotsPerBlock: 3, smallerBlocks: 0 });
    expect(() => dealAlpha(named(10), 2, 5, 1)).toThrow("dealAlpha requires no more plots in a block");
  });
});

const asked = fc.record({
  design: fc.constantFrom(
    "latin" as const,
    "split-plot" as const,
    "augmented" as const,
    "incomplete-blocks" as const,
  ),
  entries: fc.integer({ min: 3, max: 14 }),
  blocks: fc.integer({ min: 2, max: 5 }),
  plantsPerPlot: fc.integer({ min: 1, max: 9 }),
  betweenPlantsMm: fc.integer({ min: 40, max: 300 }),
  betweenRowsMm: fc.integer({ min: 40, max: 300 }),
  levels: fc.integer({ min: 2, max: 3 }),
  plotsPerBlock: fc.integer({ min: 2, max: 4 }),
  gradient: fc.constantFrom("along" as const, "across" as const),
  guardRows: fc.integer({ min: 0, max: 2 }),
  beds: fc
    .array(
      fc.record({
        widthMm: fc.integer({ min: 600, max: 3000 }),
        lengthMm: fc.integer({ min: 2_000, max: 15_000 }),
        takenUp: fc.array(
          fc.record({
            fromMm: fc.integer({ min: 0, max: 9_000 }),
            lengthMm: fc.integer({ min: 1, max: 900 }),
          }),
          { maxLength: 2 },
        ),
      }),
      { minLength: 1, maxLength: 2 },
    )
    .map((beds) =>
      beds.map(({ takenUp, ...bed }, index) => ({
        id: `bed-${index}`,
        ...bed,
        takenUp: takenUp.map(({ fromMm, lengthMm }) => ({ fromMm, toMm: fromMm + lengthMm })),
      })),
    ),
  seed: fc.integer({ min: 0, max: 4_294_967_295 }),
});

describe("a layout of these designs, whatever is asked", () => {
  it("has its design's counts, lies inside the guards, on nothing fixed and on no other plot", () => {
    const laid = new Map<string, number>();
    fc.assert(
      fc.property(asked, ({ levels, ...numbers }) => {
        const entries = named(numbers.entries);
        const blocks = numbers.design === "latin" ? numbers.entries : numbers.blocks;
        const request = {
          ...numbers,
          blocks,
          entries,
          checks: entries.slice(0, 1),
          levels: named(levels, "level"),
        };
        const outcome = layOutTrial(request);
        if (!outcome.ok) return;
        laid.set(numbers.design, (laid.get(numbers.design) ?? 0) + 1);
        const { plots } = outcome.value;
        expect(plots).toHaveLength(plotsOf(fitRequestOf(request)));
        expect(new Set(plots.map((plot) => plot.code)).size).toBe(plots.length);
        expect(new Set(plots.map((plot) => `${plot.bedId} ${plot.row} ${plot.column}`)).size).toBe(
          plots.length,
        );
        const isMisplaced = plots.filter((plot, index) => {
          const bed = numbers.beds.find((one) => one.id === plot.bedId);
          if (!bed) return true;
          const [side, end] = [
            numbers.guardRows * numbers.betweenRowsMm,
            numbers.guardRows * numbers.betweenPlantsMm,
          ];
          const [right, far] = [plot.xMm + plot.widthMm, plot.yMm + plot.lengthMm];
          return (
            plot.xMm < side ||
            right > bed.widthMm - side ||
            plot.yMm < end ||
            far > bed.lengthMm - end ||
            bed.takenUp.some(({ fromMm, toMm }) => plot.yMm < toMm && far > fromMm) ||
            plots
              .slice(index + 1)
              .some(
                (other) =>
                  other.bedId === plot.bedId &&
                  plot.xMm < other.xMm + other.widthMm &&
                  other.xMm < right &&
                  plot.yMm < other.yMm + other.lengthMm &&
                  other.yMm < far,
              )
          );
        });
        expect(isMisplaced).toEqual([]);
        for (const block of new Set(plots.map((plot) => plot.block))) {
          const inBlock = plots.filter((plot) => plot.block === block);
          expect(new Set(inBlock.map((plot) => plot.bedId)).size).toBe(1);
          const dealt = inBlock.map((plot) => `${plot.entryId} ${plot.level}`);
          expect(new Set(dealt).size).toBe(dealt.length);
        }
        if (numbers.design !== "latin") return;
        const columns = new Set(plots.map((plot) => `${plot.column} ${plot.entryId}`));
        const rows = new Set(plots.map((plot) => `${plot.row} ${plot.entryId}`));
        expect([columns.size, rows.size]).toEqual([plots.length, plots.length]);
      }),
      { seed: 20261126, numRuns: 1500 },
    );
    expect(
      Math.min(
        ...["latin", "split-plot", "augmented", "incomplete-blocks"].map((design) => laid.get(design) ?? 0),
      ),
    ).toBeGreaterThan(50);
  });
});

describe("a deal", () => {
  it("is the same from the same seed, and another from another", () => {
    const of = (seed: number) => [
      dealLatinSquare(named(5), seed),
      dealSplitPlot(["a", "b"], named(5), 3, seed),
      dealAugmented(named(9), ["check"], 3, seed),
      dealAlpha(named(12), 2, 3, seed),
    ];
    expect(of(11)).toEqual(of(11));
    of(11).forEach((deal, index) => {
      expect(deal).not.toEqual(of(12)[index]);
    });
  });
});
