import { describe, expect, it } from "vitest";
import { newcombeDifference } from "@/lib/statistics/newcombe-difference";
import { wilsonInterval } from "@/lib/statistics/wilson-interval";

describe("wilsonInterval", () => {
  it("solves (p − share)² = z² p(1 − p)/n at both limits", () => {
    const z2 = 1.959963984540054 ** 2;
    const { low, high } = wilsonInterval(20, 24, 0.95);
    for (const limit of [low, high])
      expect((limit - 20 / 24) ** 2).toBeCloseTo((z2 * limit * (1 - limit)) / 24, 14);
  });

  it("is exactly 0 or 1 where none or all stand, and takes plants that are not whole", () => {
    expect(wilsonInterval(0, 20, 0.95).low).toBe(0);
    expect(wilsonInterval(0, 20, 0.95).high).toBeCloseTo(0.1611, 4);
    expect(wilsonInterval(7.3, 7.3, 0.95).high).toBe(1);
  });

  it("refuses what cannot be counted", () => {
    expect(() => wilsonInterval(7, 6, 0.95)).toThrow(
      "wilsonInterval requires 0 ≤ standing ≤ setOut; got 7 of 6",
    );
    expect(() => wilsonInterval(0, 0, 0.95)).toThrow("wilsonInterval requires setOut > 0; got 0");
  });
});

describe("newcombeDifference", () => {
  it("has limits within −1 and 1 and some width where all stood in both", () => {
    const { estimate, low, high } = newcombeDifference(
      { share: 1, plants: 10 },
      { share: 1, plants: 12 },
      0.95,
    );
    expect(estimate).toBe(0);
    expect(low).toBeLessThan(-0.1);
    expect(high).toBeGreaterThan(0.1);
  });

  it("refuses a share past 1", () => {
    const whole = { share: 1.5, plants: 4 };
    expect(() => newcombeDifference(whole, { share: 1, plants: 4 }, 0.95)).toThrow(
      "newcombeDifference requires 0 ≤ share ≤ 1; got 1.5",
    );
  });
});
