import { describe, expect, it } from "vitest";
import { clumpedQuantile, clumping } from "@/lib/statistics/clumping";
import { effectivePlants } from "@/lib/statistics/effective-plants";
import { normalQuantile } from "@/lib/statistics/normal";
import { type FollowedPlot, standingLimits } from "@/lib/statistics/standing-limits";
import { wilsonInterval } from "@/lib/statistics/wilson-interval";

/** A plot in which some plants were lost on day 10 and some on day 30, and the rest stood when last seen on day 60. */
function plot(variety: string, block: string, early: number, late: number, stood: number): FollowedPlot {
  const times = [...Array(early).fill(10), ...Array(late).fill(30), ...Array(stood).fill(60)];
  const causes = times.map((time) => (time < 60 ? 1 : 0));
  return { variety, block, row: null, column: null, times, causes };
}

const plots = [
  plot("Pennick", "1", 0, 1, 7),
  plot("Pennick", "2", 1, 2, 5),
  plot("Pennick", "3", 0, 0, 8),
  plot("Hollin", "1", 2, 2, 4),
  plot("Hollin", "2", 3, 3, 2),
  plot("Hollin", "3", 1, 1, 6),
];

describe("standingLimits", () => {
  it.each(["crd", "rcbd"] as const)(
    "is effectivePlants at each date when nothing was censored (%s)",
    (layout) => {
      const { varieties, dispersions } = standingLimits(plots, layout, [10, 45], 0.95);
      for (const [at, day] of [10, 45].entries()) {
        const counts = plots.map(({ times, causes, ...place }) => ({
          ...place,
          setOut: times.length,
          standing: Array.from(times).filter((time) => time > day).length,
        }));
        const direct = effectivePlants(counts, layout, 0.95);
        expect(dispersions[at].f).toBeCloseTo(direct.dispersion.f as number, 12);
        for (const [place, { steps }] of varieties.entries())
          for (const key of ["share", "low", "high", "effectivePlants"] as const)
            expect(steps[at][key]).toBeCloseTo(direct.varieties[place][key] as number, 11);
      }
    },
  );

  it("by hand, with a plant cut whole: Greenwood's worth, cut down by k", () => {
    const one: FollowedPlot[] = [
      {
        variety: "Carrow",
        block: null,
        row: null,
        column: null,
        times: [5, 10, 20, 20],
        causes: [0, 1, 0, 0],
      },
    ];
    const { varieties } = standingLimits(one, "crd", [20], 0.95);
    // S = 2/3 after 1 of 3 at risk; Greenwood 4/9 × 1/(3 × 2); worth 3 plants. One plot: the prior alone, cluster of 3.
    const belief = clumping({ f: null, df: 0, effectiveDf: 0, clusterSize: 1 });
    const effective = 3 * (normalQuantile(0.975) / clumpedQuantile(belief, 3, 0.025)) ** 2;
    const limits = wilsonInterval((2 / 3) * effective, effective, 0.95);
    expect(varieties[0].steps[0]).toMatchObject({ followed: 2, lostSoFar: 1 });
    expect(varieties[0].steps[0].effectivePlants).toBeCloseTo(effective, 12);
    expect(varieties[0].steps[0].low).toBeCloseTo(limits.low, 12);
    expect(varieties[0].steps[0].high).toBeCloseTo(limits.high, 12);
  });

  it("has width where none or all are lost", () => {
    const all = [plot("Carrow", "1", 8, 0, 0), plot("Thornlea", "1", 0, 0, 8)];
    const { varieties } = standingLimits(all, "crd", [30], 0.95);
    expect(varieties[0].steps[0]).toMatchObject({ share: 0, low: 0 });
    expect(varieties[0].steps[0].high).toBeGreaterThan(0.1);
    expect(varieties[1].steps[0]).toMatchObject({ share: 1, high: 1 });
    expect(varieties[1].steps[0].low).toBeLessThan(0.9);
  });

  it("says nothing of a time to which nobody was followed, and is missing where no plants were", () => {
    const empty: FollowedPlot = {
      variety: "Greyfriar",
      block: "1",
      row: null,
      column: null,
      times: [],
      causes: [],
    };
    const { varieties } = standingLimits([...plots, empty], "rcbd", [61], 0.95);
    for (const { steps } of varieties)
      expect(steps[0]).toMatchObject({ share: null, low: null, high: null, effectivePlants: null });
  });

  it("shares the error among a family as effectivePlants does", () => {
    const one = standingLimits(plots, "rcbd", [45], 0.95);
    const family = standingLimits(plots, "rcbd", [45], 0.95, 3);
    expect(family.level).toBeCloseTo(1 - 0.05 / 3, 15);
    expect(family.varieties[0].steps[0].low).toBeLessThan(one.varieties[0].steps[0].low as number);
  });
});
