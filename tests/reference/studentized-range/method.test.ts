import { describe, expect, it } from "vitest";
import { studentTCdf } from "@/lib/statistics/student-t";
import { studentizedRangeQuantile, studentizedRangeUpper } from "@/lib/statistics/studentized-range";
import { agreement } from "../agreement";
import reference from "./case.json";

describe("studentized range", () => {
  // Below p = 1e-6 gaps are taken against 1e-6, where the reference's own digits end (1e-14). 6.0e-9 now seen.
  const tail = agreement("studentized range, tail", 2e-8);
  const quantile = agreement("studentized range, quantile", 1e-10); // 6.6e-12
  const exact = agreement("studentized range of two means", 1e-12);

  it("tail against double integration in R", () => {
    const { q, means, df } = reference.upper.arguments;
    for (const [row, want] of reference.upper.expected.entries())
      tail.agree(studentizedRangeUpper(q[row], means[row], df[row]), want);
  });

  it("quantile against double integration in R", () => {
    const { p, means, df } = reference.quantile.arguments;
    for (const [row, want] of reference.quantile.expected.entries())
      quantile.agree(studentizedRangeQuantile(p[row], means[row], df[row]), want);
  });

  it("agrees with printed tables where R 4.2's own function does not (2 df, 20 means, 1 %)", () => {
    expect(studentizedRangeQuantile(0.99, 20, 2)).toBeCloseTo(37.94, 2);
  });

  it("of two means is |t|√2, at any df and far into the tail", () => {
    for (const df of [0.3, 1, 2, 5, 30, 1e3, 1e5, 1e8])
      for (const t of [0.1, 1, 2.5, 8, 30]) {
        const want = 2 * studentTCdf(-t, df);
        if (want > 1e-150) exact.agree(studentizedRangeUpper(t * Math.SQRT2, 2, df) / want, 1);
      }
  });
});
