import { describe, expect, it } from "vitest";
import { betaUpper } from "@/lib/statistics/beta";
import { chiSquareUpper } from "@/lib/statistics/chi-square";
import { fUpper } from "@/lib/statistics/f-distribution";
import { normalCdf, normalQuantile } from "@/lib/statistics/normal";
import { randomStream } from "@/lib/statistics/random-stream";
import { studentTCdf, studentTQuantile } from "@/lib/statistics/student-t";

describe("distribution functions", () => {
  it("meet each other at their ends and limits", () => {
    expect(normalQuantile(0)).toBe(Number.NEGATIVE_INFINITY);
    expect(normalQuantile(1)).toBe(Number.POSITIVE_INFINITY);
    expect(normalQuantile(0.5)).toBe(0);
    expect(studentTCdf(1.3, Number.POSITIVE_INFINITY)).toBe(normalCdf(1.3));
    expect(studentTQuantile(0.9, Number.POSITIVE_INFINITY)).toBe(normalQuantile(0.9));
    expect(fUpper(0, 2, 3)).toBe(1);
    expect(fUpper(Number.POSITIVE_INFINITY, 2, 3)).toBe(0);
    expect(chiSquareUpper(0, 1)).toBe(1);
    expect(betaUpper(1, 2, 3)).toBe(0);
    // An F on 1 and df is the square of a t on df.
    expect(fUpper(2.1 ** 2, 1, 7)).toBeCloseTo(2 * studentTCdf(-2.1, 7), 14);
  });

  it("refuse what is not a probability, in the one grammar", () => {
    expect(() => normalQuantile(Number.NaN)).toThrow("normalQuantile requires 0 ≤ p ≤ 1; got NaN");
    expect(() => studentTQuantile(0.5, 0)).toThrow(
      "studentTQuantile requires 0 ≤ p ≤ 1 and df > 0; got p 0.5, df 0",
    );
  });
});

describe("randomStream", () => {
  it("gives the same numbers for the same seed and others for another", () => {
    const take = (seed: number) => {
      const stream = randomStream(seed);
      return Array.from({ length: 5 }, () => stream.whole(1000));
    };
    expect(take(7)).toEqual(take(7));
    expect(take(7)).not.toEqual(take(8));
  });

  it("starts as differently from seeds that follow one another as from any", () => {
    const tally = new Array(6).fill(0);
    let together = 0;
    let before = 0.5;
    for (let seed = 0; seed < 6000; seed += 1) {
      const share = randomStream(seed).uniform();
      tally[Math.floor(share * 6)] += 1;
      together += 12 * (share - 0.5) * (before - 0.5);
      before = share;
    }
    for (const count of tally) expect(Math.abs(count - 1000)).toBeLessThan(130);
    expect(Math.abs(together / 6000)).toBeLessThan(0.06);
  });

  it("stays in range and is flat", () => {
    const stream = randomStream(2026);
    const tally = new Array(6).fill(0);
    let sum = 0;
    for (let draw = 0; draw < 60_000; draw += 1) {
      tally[stream.whole(6)] += 1;
      const share = stream.uniform();
      expect(share >= 0 && share < 1).toBe(true);
      sum += share;
    }
    for (const count of tally) expect(Math.abs(count - 10_000)).toBeLessThan(400);
    expect(sum / 60_000).toBeCloseTo(0.5, 2);
  });

  it("refuses a seed that is not whole", () => {
    expect(() => randomStream(0.5)).toThrow("randomStream requires a whole seed; got 0.5");
  });
});
