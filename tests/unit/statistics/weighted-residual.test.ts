import { expect, it } from "vitest";
import { weightedResidual } from "@/lib/statistics/weighted-residual";

it("weightedResidual is the variance of one group, by hand", () => {
  const { df, meanSquare, meanWeight } = weightedResidual([1, 3], [1, 3], [[0, 0]]);
  // Weighted mean 2.5; 1 × 1.5² + 3 × 0.5² = 3; leverages ¼ and ¾.
  expect(df).toBe(1);
  expect(meanSquare).toBeCloseTo(3, 14);
  expect(meanWeight).toBeCloseTo(1 * 0.75 + 3 * 0.25, 14);
});

it("weightedResidual agrees with R on two crossed factors with a cell missing", () => {
  // R 4.2.2: m <- lm(y ~ factor(a) + factor(b), weights = w); sum(w * residuals(m)^2) / m$df.residual;
  // sum(w * (1 - hatvalues(m))) / m$df.residual
  const y = [0.9, 0.4, 0.7, 0.5, 0.1, 0.8, 0.3];
  const w = [8, 8, 6, 7, 8, 5, 9];
  const a = [0, 0, 0, 1, 1, 1, 2];
  const b = [0, 1, 2, 0, 1, 2, 0];
  const { df, meanSquare, meanWeight } = weightedResidual(y, w, [a, b]);
  expect(df).toBe(2);
  expect(meanSquare).toBeCloseTo(0.2122363847045192, 13);
  expect(meanWeight).toBeCloseTo(6.8876013904982631, 13);
});

it("weightedResidual drops aliased columns and leaves nothing where the fit is full", () => {
  const twice = weightedResidual(
    [1, 2, 4, 3],
    [1, 1, 1, 1],
    [
      [0, 0, 1, 1],
      [1, 1, 0, 0],
    ],
  );
  expect(twice.df).toBe(2);
  expect(weightedResidual([1, 2], [1, 1], [[0, 1]])).toEqual({ df: 0, meanSquare: 0, meanWeight: 0 });
});
