import { expect, it } from "vitest";
import { moverDifference } from "@/lib/statistics/mover-difference";

it("moverDifference adds the arms in square, by hand 3-4-5", () => {
  const a = { estimate: 0.8, low: 0.5, high: 0.9 };
  const b = { estimate: 0.2, low: 0.1, high: 0.6 };
  const { estimate, low, high } = moverDifference(a, b);
  expect(estimate).toBeCloseTo(0.6, 15);
  expect(low).toBeCloseTo(0.6 - 0.5, 15);
  expect(high).toBeCloseTo(0.6 + Math.hypot(0.1, 0.1), 15);
});

it("moverDifference refuses limits that miss their estimate", () => {
  const a = { estimate: 0.8, low: 0.9, high: 0.95 };
  expect(() => moverDifference(a, a)).toThrow("moverDifference requires low ≤ estimate ≤ high");
});
