import { describe, expect, it } from "vitest";
import { tTestNonCentrality, tTestPower } from "@/lib/statistics/t-test-power";

describe("power of a t test", () => {
  it("is the level's own error where there is nothing to see", () => {
    expect(tTestPower(0, 7, 0.95)).toBeCloseTo(0.05, 12);
  });

  it("comes to the normal test's with many df", () => {
    expect(tTestPower(2.8, 1e7, 0.95)).toBeCloseTo(tTestPower(2.8, Number.POSITIVE_INFINITY, 0.95), 6);
  });

  it("is solved back for the non-centrality", () => {
    expect(tTestPower(tTestNonCentrality(0.8, 9, 0.95), 9, 0.95)).toBeCloseTo(0.8, 12);
  });

  it("refuses what cannot be meant", () => {
    expect(() => tTestPower(1, 0, 0.95)).toThrow("tTestPower requires df > 0; got 0");
  });
});
