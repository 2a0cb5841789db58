import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dealCrd } from "@/lib/design/deal-crd";
import { dealRcbd } from "@/lib/design/deal-rcbd";
import { fitBed, nearestPlans } from "@/lib/design/fit-bed";
import { layOutTrial } from "@/lib/design/lay-out-trial";
import { shuffled } from "@/lib/design/shuffled";
import { randomStream } from "@/lib/statistics/random-stream";

const run = { seed: 20261125, numRuns: 1500 };

const request = fc.record({
  design: fc.constantFrom("crd" as const, "rcbd" as const),
  entries: fc.integer({ min: 2, max: 9 }),
  blocks: fc.integer({ min: 1, max: 6 }),
  plantsPerPlot: fc.integer({ min: 1, max: 13 }),
  betweenPlantsMm: fc.integer({ min: 40, max: 600 }),
  betweenRowsMm: fc.integer({ min: 40, max: 600 }),
  beds: fc
    .array(
      fc.record({
        widthMm: fc.integer({ min: 200, max: 2000 }),
        lengthMm: fc.integer({ min: 500, max: 12_000 }),
      }),
      { minLength: 1, maxLength: 3 },
    )
    .map((beds) => beds.map((bed, index) => ({ id: `bed-${index}`, ...bed }))),
  seed: fc.integer({ min: 0, max: 4_294_967_295 }),
});

function named(count: number): string[] {
  return Array.from({ length: count }, (_, index) => `entry-${index}`);
}

describe("a layout, whatever is asked", () => {
  it("has its design's counts, its plots inside their beds and none on another", () => {
    let laid = 0;
    fc.assert(
      fc.property(request, (asked) => {
        const entries = named(asked.entries);
        const outcome = layOutTrial({ ...asked, entries });
        if (!outcome.ok) return;
        laid += 1;
        const { plots } = outcome.value;
        expect(plots).toHaveLength(asked.entries * asked.blocks);
        expect(new Set(plots.map((plot) => plot.code)).size).toBe(plots.length);
        for (const entry of entries)
          expect(plots.filter((plot) => plot.entryId === entry)).toHaveLength(asked.blocks);
        for (const plot of plots) {
          const bed = asked.beds.find((one) => one.id === plot.bedId);
          expect(plot.xMm >= 0 && plot.xMm + plot.widthMm <= (bed?.widthMm ?? 0)).toBe(true);
          expect(plot.yMm >= 0 && plot.yMm + plot.lengthMm <= (bed?.lengthMm ?? 0)).toBe(true);
          expect(plot.widthMm).toBe(plot.plantRows * asked.betweenRowsMm);
          const inRow = plot.lengthMm / asked.betweenPlantsMm;
          expect(plot.plantRows * inRow >= plot.plants && (plot.plantRows - 1) * inRow < plot.plants).toBe(
            true,
          );
        }
        const overlaps = plots.filter((plot, index) =>
          plots
            .slice(index + 1)
            .some(
              (other) =>
                plot.bedId === other.bedId &&
                plot.xMm < other.xMm + other.widthMm &&
                other.xMm < plot.xMm + plot.widthMm &&
                plot.yMm < other.yMm + other.lengthMm &&
                other.yMm < plot.yMm + plot.lengthMm,
            ),
        );
        expect(overlaps).toEqual([]);
        if (asked.design === "crd") return;
        for (let block = 1; block <= asked.blocks; block += 1) {
          const inBlock = plots.filter((plot) => plot.block === block);
          expect(new Set(inBlock.map((plot) => plot.entryId)).size).toBe(asked.entries);
          expect(new Set(inBlock.map((plot) => plot.bedId)).size).toBe(1);
          const rows = inBlock.map((plot) => plot.row);
          const others = plots.filter((plot) => plot.block !== block && plot.bedId === inBlock[0].bedId);
          expect(others.some((plot) => plot.row >= Math.min(...rows) && plot.row <= Math.max(...rows))).toBe(
            false,
          );
        }
      }),
      run,
    );
    expect(laid).toBeGreaterThan(300);
  });

  it("is refused with a plan that fits, where there is one", () => {
    fc.assert(
      fc.property(request, (asked) => {
        const outcome = fitBed(asked);
        if (outcome.ok) return;
        expect(outcome.faults).toHaveLength(1);
        for (const plan of nearestPlans(asked)) expect(fitBed({ ...asked, ...plan }).ok).toBe(true);
      }),
      run,
    );
  });

  it("is the same from the same seed", () => {
    fc.assert(
      fc.property(request, (asked) => {
        const again = { ...asked, entries: named(asked.entries) };
        expect(layOutTrial(again)).toEqual(layOutTrial(again));
      }),
      { ...run, numRuns: 300 },
    );
  });
});

/** Two beds with two blocks each of five, in lines of two: the demo's own layout. */
const blocks = [0, 1, 2, 3].map((block) =>
  [0, 1, 2, 3, 4].map((position) => ({
    row: (block % 2) * 3 + Math.floor(position / 2) + 1,
    column: (position % 2) + 1,
  })),
);

describe("deals over thousands of seeds", () => {
  const seeds = Array.from({ length: 4000 }, (_, seed) => seed);
  const entries = named(5);

  it("give every variety every place in blocks equally often, and every pair of places in two blocks", () => {
    const deals = seeds.map((seed) => dealRcbd(entries, 4, seed));
    // 4,000 deals, 800 expected in each of 100 cells: beyond 4.5 standard errors of a binomial count is no chance.
    for (let block = 0; block < 4; block += 1)
      for (let position = 0; position < 5; position += 1)
        for (const entry of entries) {
          const count = deals.filter((deal) => deal[block][position] === entry).length;
          expect(Math.abs(count - 800)).toBeLessThan(4.5 * Math.sqrt(4000 * 0.2 * 0.8));
        }
    for (let first = 0; first < 5; first += 1)
      for (let second = 0; second < 5; second += 1) {
        const alike = deals.filter((deal) => deal[0][first] === deal[1][second]).length;
        expect(Math.abs(alike - 800)).toBeLessThan(4.5 * Math.sqrt(4000 * 0.2 * 0.8));
      }
  });

  it("leave a completely random deal free: every arrangement of two and two equally often", () => {
    const counts = new Map<string, number>();
    for (const seed of seeds) {
      const deal = dealCrd(["a", "b"], 2, seed).join("");
      counts.set(deal, (counts.get(deal) ?? 0) + 1);
    }
    expect(counts.size).toBe(6);
    for (const count of counts.values())
      expect(Math.abs(count - 4000 / 6)).toBeLessThan(4.5 * Math.sqrt((4000 * 5) / 36));
  });
});

describe("a test that re-deals within blocks", () => {
  /** Sum over varieties of squared totals within blocks: rises and falls with F in complete blocks. */
  function spreadOf(deal: readonly (readonly string[])[], figures: readonly (readonly number[])[]): number {
    const totals = new Map<string, number>();
    deal.forEach((block, index) => {
      block.forEach((entry, position) => {
        totals.set(entry, (totals.get(entry) ?? 0) + figures[index][position]);
      });
    });
    return [...totals.values()].reduce((sum, total) => sum + total * total, 0);
  }

  it("gives false alarms about as often as it says, on ground that changes along and across the beds", () => {
    const stream = randomStream(34);
    const entries = named(5);
    const trials = 800;
    let alarms = 0;
    for (let trial = 0; trial < trials; trial += 1) {
      const [along, across] = [stream.uniform() * 3, stream.uniform() * 2];
      const figures = blocks.map((block) => {
        const raw = block.map(({ row, column }) => along * row + across * column + 2 * stream.uniform());
        const mean = raw.reduce((sum, figure) => sum + figure, 0) / raw.length;
        return raw.map((figure) => figure - mean);
      });
      const seen = spreadOf(dealRcbd(entries, 4, trial), figures);
      let asFar = 1;
      for (let again = 0; again < 99; again += 1) {
        const free = blocks.map(() => shuffled(entries, stream));
        if (spreadOf(free, figures) >= seen - 1e-9) asFar += 1;
      }
      if (asFar / 100 <= 0.05) alarms += 1;
    }
    // Standard error 0.8 in 100.
    expect(Math.abs(alarms / trials - 0.05)).toBeLessThan(0.025);
  });
});
