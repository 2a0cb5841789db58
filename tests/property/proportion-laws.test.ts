import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { agrestiCoullInterval } from "@/lib/statistics/agresti-coull-interval";
import { clopperPearsonInterval } from "@/lib/statistics/clopper-pearson-interval";
import { clumpedQuantile, clumping } from "@/lib/statistics/clumping";
import { dealsOf } from "@/lib/statistics/deals";
import { effectiveMainPlots } from "@/lib/statistics/effective-main-plots";
import { effectivePlants } from "@/lib/statistics/effective-plants";
import { fisherExact } from "@/lib/statistics/fisher-exact";
import { floorProbability } from "@/lib/statistics/floor-probability";
import { jeffreysInterval } from "@/lib/statistics/jeffreys-interval";
import { miettinenNurminenDifference } from "@/lib/statistics/miettinen-nurminen-difference";
import { newcombeDifference } from "@/lib/statistics/newcombe-difference";
import type { Layout, PlotCount } from "@/lib/statistics/plot-count";
import { publishedDesignEffect } from "@/lib/statistics/published-design-effect";
import { randomStream } from "@/lib/statistics/random-stream";
import { survivalRandomisation } from "@/lib/statistics/survival-randomisation";
import { wilsonInterval } from "@/lib/statistics/wilson-interval";

const seeded = { seed: 20261125, numRuns: 200 };
const near = (a: number | null, b: number | null, digits = 9) =>
  expect(a ?? Number.NaN).toBeCloseTo(b ?? Number.NaN, digits);

const count = (most: number) =>
  fc
    .integer({ min: 1, max: most })
    .chain((setOut) =>
      fc.record({ standing: fc.integer({ min: 0, max: setOut }), setOut: fc.constant(setOut) }),
    );

/** Varieties × blocks with plots of any size, some empty, some cells missing. */
const trial = fc
  .record({
    varieties: fc.integer({ min: 2, max: 6 }),
    blocks: fc.integer({ min: 1, max: 5 }),
    layout: fc.constantFrom<Layout>("crd", "rcbd"),
  })
  .chain(({ varieties, blocks, layout }) =>
    fc
      .array(
        fc.oneof(
          { weight: 9, arbitrary: count(12) },
          fc.constant({ standing: 0, setOut: 0 }),
          fc.constant(null),
        ),
        {
          minLength: varieties * blocks,
          maxLength: varieties * blocks,
        },
      )
      .map((cells) => ({
        layout,
        plots: cells.flatMap((cell, index): PlotCount[] =>
          cell === null
            ? []
            : [
                {
                  variety: `v${index % varieties}`,
                  block: layout === "rcbd" ? `b${Math.floor(index / varieties)}` : null,
                  row: null,
                  column: null,
                  ...cell,
                },
              ],
        ),
      })),
  )
  .filter(({ plots }) => plots.some((plot) => plot.setOut > 0));

describe("limits of one share", () => {
  const intervals = { wilsonInterval, clopperPearsonInterval, jeffreysInterval, agrestiCoullInterval };
  it.each(Object.entries(intervals))(
    "%s contains the share, lies in range and is mirrored by x ↔ n − x",
    (_name, interval) => {
      fc.assert(
        fc.property(count(60), fc.constantFrom(0.8, 0.95, 0.99), ({ standing, setOut }, level) => {
          const { low, high } = interval(standing, setOut, level);
          expect(low).toBeGreaterThanOrEqual(0);
          expect(low).toBeLessThanOrEqual(standing / setOut);
          expect(high).toBeGreaterThanOrEqual(standing / setOut);
          expect(high).toBeLessThanOrEqual(1);
          expect(high).toBeGreaterThan(low);
          const mirrored = interval(setOut - standing, setOut, level);
          near(mirrored.low, 1 - high, 11);
          near(mirrored.high, 1 - low, 11);
        }),
        seeded,
      );
    },
  );
});

describe("limits of a difference", () => {
  it("contain it, lie in range, and change sign with the order", () => {
    fc.assert(
      fc.property(count(40), count(40), (a, b) => {
        const weighed = [a, b].map(({ standing, setOut }) => ({ share: standing / setOut, plants: setOut }));
        const pairs = [
          [
            newcombeDifference(weighed[0], weighed[1], 0.95),
            newcombeDifference(weighed[1], weighed[0], 0.95),
          ],
          [miettinenNurminenDifference(a, b, 0.95), miettinenNurminenDifference(b, a, 0.95)],
        ];
        for (const [one, other] of pairs) {
          expect(one.low).toBeGreaterThanOrEqual(-1);
          expect(one.low).toBeLessThanOrEqual(one.estimate);
          expect(one.high).toBeGreaterThanOrEqual(one.estimate);
          expect(one.high).toBeLessThanOrEqual(1);
          near(one.low, -other.high);
          near(one.high, -other.low);
        }
      }),
      { ...seeded, numRuns: 60 },
    );
  });

  it("Fisher's p is the same from either side, at most 1 and never 0", () => {
    fc.assert(
      fc.property(count(20), count(20), (a, b) => {
        const one = fisherExact(a, b, 0.95);
        expect(one.p).toBeGreaterThan(0);
        expect(one.p).toBeLessThanOrEqual(1);
        near(one.p, fisherExact(b, a, 0.95).p, 12);
        if (one.oddsRatio !== null) {
          expect(one.low).toBeLessThanOrEqual(one.oddsRatio * (1 + 1e-12));
          expect(one.high).toBeGreaterThanOrEqual(one.oddsRatio * (1 - 1e-12));
        }
      }),
      { ...seeded, numRuns: 60 },
    );
  });
});

describe("effective plants", () => {
  it("have limits that contain the share and lie in range, on at most the plants set out", () => {
    fc.assert(
      fc.property(trial, ({ plots, layout }) => {
        for (const { share, low, high, effectivePlants: plants, setOut } of effectivePlants(
          plots,
          layout,
          0.95,
        ).varieties) {
          if (share === null || low === null || high === null || plants === null) {
            expect(setOut).toBe(0);
            continue;
          }
          expect(low).toBeGreaterThanOrEqual(0);
          expect(low).toBeLessThanOrEqual(share);
          expect(high).toBeGreaterThanOrEqual(share);
          expect(high).toBeLessThanOrEqual(1);
          expect(plants).toBeGreaterThan(0);
          expect(plants).toBeLessThanOrEqual(setOut * (1 + 1e-12));
        }
      }),
      seeded,
    );
  });

  it("do not change when varieties are renamed, blocks renamed or plots listed in another order", () => {
    fc.assert(
      fc.property(trial, fc.integer(), ({ plots, layout }, seed) => {
        const stream = randomStream(seed);
        const shuffled = plots
          .map((plot) => ({ at: stream.uniform(), plot }))
          .sort((a, b) => a.at - b.at)
          .map(({ plot }) => ({
            ...plot,
            variety: `renamed ${plot.variety}`,
            block: plot.block && `other ${plot.block}`,
          }));
        const before = effectivePlants(plots, layout, 0.95).varieties;
        const after = effectivePlants(shuffled, layout, 0.95).varieties;
        for (const variety of before) {
          const same = after.find((other) => other.variety === `renamed ${variety.variety}`);
          if (variety.share === null) continue;
          near(same?.low ?? null, variety.low);
          near(same?.high ?? null, variety.high);
        }
      }),
      seeded,
    );
  });

  it("are mirrored when standing and lost change places", () => {
    fc.assert(
      fc.property(trial, ({ plots, layout }) => {
        const mirrored = plots.map((plot) => ({ ...plot, standing: plot.setOut - plot.standing }));
        const before = effectivePlants(plots, layout, 0.95).varieties;
        effectivePlants(mirrored, layout, 0.95).varieties.forEach((variety, index) => {
          const { low, high, share } = before[index];
          if (share === null || low === null || high === null) return;
          near(variety.low, 1 - high);
          near(variety.high, 1 - low);
        });
      }),
      seeded,
    );
  });

  it("are the plants themselves where each plot holds one", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 1 }), { minLength: 6, maxLength: 24 }), (standing) => {
        const plots = standing.map((each, index) => ({
          variety: `v${index % 3}`,
          block: `b${Math.floor(index / 3)}`,
          row: null,
          column: null,
          setOut: 1,
          standing: each,
        }));
        for (const variety of effectivePlants(plots, "rcbd", 0.9).varieties) {
          const wilson = wilsonInterval(variety.standing, variety.setOut, 0.9);
          near(variety.low, wilson.low);
          near(variety.high, wilson.high);
        }
      }),
      seeded,
    );
  });

  it("never narrow with more scatter, larger plots or a stricter level", () => {
    const numbers = fc.record({
      f: fc.double({ min: 0, max: 30, noNaN: true }),
      more: fc.double({ min: 0, max: 10, noNaN: true }),
      effectiveDf: fc.double({ min: 0.1, max: 40, noNaN: true }),
      clusterSize: fc.double({ min: 1, max: 30, noNaN: true }),
    });
    fc.assert(
      fc.property(numbers, ({ f, more, effectiveDf, clusterSize }) => {
        const belief = clumping({ f, df: 1, effectiveDf, clusterSize });
        const clumped = clumping({ f: f + more, df: 1, effectiveDf, clusterSize });
        const k = clumpedQuantile(belief, clusterSize, 0.025);
        const slack = 1 + 1e-12;
        expect(clumpedQuantile(clumped, clusterSize, 0.025) * slack).toBeGreaterThanOrEqual(k);
        expect(clumpedQuantile(belief, clusterSize + more, 0.025) * slack).toBeGreaterThanOrEqual(k);
        expect(clumpedQuantile(belief, clusterSize, 0.01)).toBeGreaterThan(k);
        expect(k).toBeGreaterThanOrEqual(1.9599639845400536);
      }),
      seeded,
    );
  });

  it("give a floor's probability within 0 and 1, falling with the floor and mirrored with the losses", () => {
    fc.assert(
      fc.property(trial, fc.double({ min: 0, max: 1, noNaN: true }), ({ plots, layout }, floor) => {
        const { clumping: belief, varieties } = effectivePlants(plots, layout, 0.95);
        for (const { standing, setOut, clusterSize } of varieties) {
          if (clusterSize === null) continue;
          const at = floorProbability(belief, { standing, setOut, clusterSize }, floor);
          expect(at).toBeGreaterThanOrEqual(0);
          expect(at).toBeLessThanOrEqual(1);
          const lost = floorProbability(
            belief,
            { standing: setOut - standing, setOut, clusterSize },
            1 - floor,
          );
          near(at + lost, 1, 8);
          expect(
            floorProbability(belief, { standing, setOut, clusterSize }, floor / 2),
          ).toBeGreaterThanOrEqual(at - 1e-12);
        }
      }),
      seeded,
    );
  });

  it("hold for main plots and the published form too", () => {
    fc.assert(
      fc.property(trial, ({ plots, layout }) => {
        const mains = plots.map((plot, index) => ({
          ...plot,
          treatment: index % 2 === 0 ? "net" : "open",
          mainPlot: `${index % 2} ${plot.block}`,
        }));
        const shares = [
          ...effectiveMainPlots(mains, 0.95).treatments,
          ...publishedDesignEffect(plots, 0.95).varieties,
          ...effectivePlants(plots, layout, 0.95, 5).varieties,
        ];
        for (const { share, low, high } of shares) {
          if (share === null || low === null || high === null) continue;
          expect(low).toBeLessThanOrEqual(share);
          expect(high).toBeGreaterThanOrEqual(share);
          expect(low >= 0 && high <= 1).toBe(true);
        }
      }),
      seeded,
    );
  });
});

describe("randomisation", () => {
  it("keeps its design's counts in every deal, and p is never 0", () => {
    fc.assert(
      fc.property(trial, fc.integer(), ({ plots, layout }, seed) => {
        const tally = (labels: Iterable<number | string>) => {
          const seen: Record<string, number> = {};
          [...labels].forEach((label, index) => {
            const key = `${label} in ${layout === "rcbd" ? plots[index].block : "all"}`;
            seen[key] = (seen[key] ?? 0) + 1;
          });
          return seen;
        };
        const deals = dealsOf(plots, layout);
        const dealt = tally(deals.dealt);
        for (let draw = 0; draw < 5; draw += 1) expect(tally(deals.draw(randomStream(seed)))).toEqual(dealt);
        const varieties = deals.varieties;
        if (varieties.length < 2) return;
        const pairs = varieties.slice(1).map((variety): [string, string] => [variety, varieties[0]]);
        for (const { p, pFamily } of survivalRandomisation(plots, layout, pairs, 50, randomStream(seed))
          .comparisons) {
          expect(p).toBeGreaterThan(0);
          expect(pFamily).toBeGreaterThanOrEqual(p);
          expect(pFamily).toBeLessThanOrEqual(1);
        }
      }),
      { ...seeded, numRuns: 30 },
    );
  });

  it("gives the same exact p whatever varieties are called and in whatever order plots are listed", () => {
    const small = fc.array(count(9), { minLength: 6, maxLength: 6 });
    fc.assert(
      fc.property(small, (cells) => {
        const plots = cells.map((cell, index) => ({
          variety: `v${index % 3}`,
          block: `b${Math.floor(index / 3)}`,
          row: null,
          column: null,
          ...cell,
        }));
        const turned = [...plots].reverse().map((plot) => ({ ...plot, variety: `z${plot.variety}` }));
        const one = survivalRandomisation(
          plots,
          "rcbd",
          [
            ["v1", "v0"],
            ["v2", "v0"],
          ],
          1,
          randomStream(1),
        );
        const other = survivalRandomisation(
          turned,
          "rcbd",
          [
            ["zv1", "zv0"],
            ["zv2", "zv0"],
          ],
          1,
          randomStream(2),
        );
        one.comparisons.forEach((comparison, index) => {
          near(comparison.p, other.comparisons[index].p, 12);
          near(comparison.pFamily, other.comparisons[index].pFamily, 12);
        });
      }),
      { ...seeded, numRuns: 60 },
    );
  });
});
