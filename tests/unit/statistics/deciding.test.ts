import { describe, expect, it } from "vitest";
import { clumping } from "@/lib/statistics/clumping";
import { floorProbability } from "@/lib/statistics/floor-probability";
import { noneLostLimit } from "@/lib/statistics/none-lost-limit";
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

describe("noneLostLimit", () => {
  it("is the exact one-sided limit, near 3 in n", () => {
    // R: qbeta(0.95, 1, 24)
    expect(noneLostLimit(24, 0.95)).toBeCloseTo(0.117346156155, 11);
    expect(noneLostLimit(1000, 0.95) * 1000).toBeCloseTo(3, 1);
  });
});
