import { expect, it } from "vitest";
import { clumpedCount } from "@/lib/statistics/clumped-count";
import { randomStream } from "@/lib/statistics/random-stream";

it.each([
  [0.8, 0],
  [0.5, 0.2],
  [0.95, 0.3],
])("clumpedCount has the mean and variance of share %d and ICC %d", (share, icc) => {
  const stream = randomStream(20);
  const draws = 40_000;
  let sum = 0;
  let squares = 0;
  for (let draw = 0; draw < draws; draw += 1) {
    const count = clumpedCount(stream, 8, share, icc);
    sum += count;
    squares += count * count;
  }
  const mean = sum / draws;
  const variance = squares / draws - mean ** 2;
  const wanted = 8 * share * (1 - share) * (1 + 7 * icc);
  expect(Math.abs(mean - 8 * share)).toBeLessThan(4 * Math.sqrt(wanted / draws));
  expect(Math.abs(variance / wanted - 1)).toBeLessThan(0.06);
});

it("clumpedCount is sure at the ends and refuses a share past 1", () => {
  const stream = randomStream(1);
  expect(clumpedCount(stream, 5, 1, 0.3)).toBe(5);
  expect(clumpedCount(stream, 5, 0, 0.3)).toBe(0);
  expect(() => clumpedCount(stream, 5, 1.2, 0)).toThrow("clumpedCount requires 0 ≤ share ≤ 1");
});
