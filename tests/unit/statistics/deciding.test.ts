import { describe, expect, it } from "vitest";
import { blocksToSettle } from "@/lib/statistics/blocks-to-settle";
import { clumping } from "@/lib/statistics/clumping";
import { floorProbability } from "@/lib/statistics/floor-probability";
import { plotsToSettle } from "@/lib/statistics/plots-to-settle";
import { studentTCdf } from "@/lib/statistics/student-t";
import { threeWayRule } from "@/lib/statistics/three-way-rule";

describe("floorProbability", () => {
  const belief = clumping({ f: 1.2, df: 6, effectiveDf: 5, clusterSize: 8 });

  it("is Jeffreys' beta where every plot holds one plant", () => {
    // P(Beta(2.5, 1.5) ≥ ½) = 1 − I½(2.5, 1.5), from R: pbeta(0.5, 2.5, 1.5, lower.tail = FALSE).
    const probability = floorProbability(belief, { standing: 2, setOut: 3, clusterSize: 1 }, 0.5);
    expect(probability).toBeCloseTo(0.712206590789194, 12);
  });

  it("falls as the floor rises, from 1 to 0", () => {
    const count = { standing: 20, setOut: 24, clusterSize: 8 };
    const probabilities = [0, 0.3, 0.6, 0.9, 1].map((floor) => floorProbability(belief, count, floor));
    expect(probabilities[0]).toBe(1);
    expect(probabilities[4]).toBe(0);
    expect(probabilities).toEqual([...probabilities].sort((a, b) => b - a));
  });
});

describe("threeWayRule", () => {
  it("grows again only when each floor is as sure as asked", () => {
    expect(threeWayRule([0.85, 0.8], 0.8, false)).toBe("grow again");
    expect(threeWayRule([0.85, 0.79], 0.8, false)).toBe("try once more");
    expect(threeWayRule([0.85, null], 0.8, false)).toBe("try once more");
  });

  it("drops at 1 − s with one floor and at half of that with two", () => {
    expect(threeWayRule([0.15], 0.8, false)).toBe("drop");
    expect(threeWayRule([0.15, 0.9], 0.8, false)).toBe("try once more");
    expect(threeWayRule([0.09, null], 0.8, false)).toBe("drop");
  });

  it("is capped at try once more, and still drops", () => {
    expect(threeWayRule([0.99], 0.8, true)).toBe("try once more");
    expect(threeWayRule([0.01], 0.8, true)).toBe("drop");
  });

  it("proposes nothing without floors", () => {
    expect(threeWayRule([], 0.8, false)).toBeNull();
  });
});

describe("plotsToSettle", () => {
  const belief = clumping({ f: 1.2, df: 6, effectiveDf: 5, clusterSize: 8 });
  const count = { standing: 20, setOut: 24, clusterSize: 8 };
  const rule = { floor: 0.75, meetAt: 0.8, missAt: 0.2 };

  it("stops at the first plot that brings the probability to the mark", () => {
    const settled = plotsToSettle(belief, count, rule, 8, 100);
    if (!settled) throw new Error("it should settle");
    expect(settled.meets).toBe(true);
    const at = (plots: number) => {
      const setOut = 24 + 8 * plots;
      return floorProbability(belief, { standing: (20 / 24) * setOut, setOut, clusterSize: 8 }, 0.75);
    };
    expect(at(settled.plots)).toBeGreaterThanOrEqual(0.8);
    expect(at(settled.plots - 1)).toBeLessThan(0.8);
    expect(settled.plants).toBe(8 * settled.plots);
  });

  it("is settled at once where the answer is clear, either way", () => {
    expect(plotsToSettle(belief, { ...count, standing: 24 }, rule, 8, 100)).toEqual({
      plots: 0,
      plants: 0,
      meets: true,
    });
    expect(plotsToSettle(belief, { ...count, standing: 0 }, rule, 8, 100)?.meets).toBe(false);
  });

  it("says that nothing would settle a variety that stands at the floor", () => {
    expect(plotsToSettle(belief, { ...count, standing: 18 }, rule, 8, 60)).toBeNull();
  });
});

describe("blocksToSettle", () => {
  it("stops at the first block that brings t to the mark", () => {
    const ratio = { estimate: 0.05, se: 0.15, blocks: 3 };
    const settled = blocksToSettle(ratio, 3, { logFloor: Math.log(0.9), meetAt: 0.9, missAt: 0.1 }, 40);
    if (!settled) throw new Error("it should settle");
    const at = (more: number) => {
      const all = 3 + more;
      return studentTCdf((0.05 - Math.log(0.9)) / (0.15 * Math.sqrt(3 / all)), (all - 1) * 3);
    };
    expect(at(settled.blocks)).toBeGreaterThanOrEqual(0.9);
    expect(at(settled.blocks - 1)).toBeLessThan(0.9);
    expect(blocksToSettle(ratio, 3, { logFloor: 0.05, meetAt: 0.9, missAt: 0.1 }, 40)).toBeNull();
  });
});
