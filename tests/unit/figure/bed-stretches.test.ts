import { describe, expect, it } from "vitest";
import { bedStretches } from "@/lib/figure/bed-stretches";

const plots = (count: number, lengthMm = 300) =>
  Array.from({ length: count }, (_, place) => ({ yMm: place * lengthMm, lengthMm }));
const bed = (lengthMm: number) => ({ name: "Long bed", widthMm: 1_200, lengthMm });

describe("a bed as it is drawn", () => {
  it("stays whole where each plot has room for its stake code", () => {
    const whole = bedStretches(bed(6_000), plots(20), 720);
    expect(whole).toEqual([{ bed: bed(6_000), plots: plots(20) }]);
  });

  it("is cut where plots begin, and every plot is drawn once, measured from its stretch", () => {
    const parts = bedStretches(bed(30_000), plots(80), 720);
    expect(parts.map((part) => part.bed.name)).toEqual([
      "Long bed, from the path end to 9.6 m",
      "Long bed, from 9.6 m to 19.2 m",
      "Long bed, from 19.2 m to 24 m",
    ]);
    expect(parts.flatMap((part) => part.plots)).toHaveLength(80);
    for (const part of parts) {
      expect(part.plots[0].yMm).toBe(0);
      for (const plot of part.plots) expect(plot.yMm + plot.lengthMm).toBeLessThanOrEqual(part.bed.lengthMm);
    }
  });

  it("keeps what stands in the way in the stretch where it is", () => {
    const way = { ...bed(30_000), takenUp: [{ fromMm: 9_000, toMm: 9_900 }] };
    const [first, second, last] = bedStretches(way, plots(80), 720);
    expect(first.bed.takenUp).toEqual([{ fromMm: 9_000, toMm: 9_600 }]);
    expect(second.bed.takenUp).toEqual([{ fromMm: 0, toMm: 300 }]);
    expect(last.bed.takenUp).toEqual([]);
  });
});
