import { describe, expect, it } from "vitest";
import { dayScale, linearScale, monthStarts, roundDomain, roundTicks } from "@/lib/figure/scale";
import type { Day } from "@/lib/words/day";

describe("scales of figures", () => {
  it("maps the ends of the domain to the ends of the drawing", () => {
    const x = linearScale(-1, 1, 10, 110);
    expect([x(-1), x(0), x(1)]).toEqual([10, 60, 110]);
  });

  it("puts everything in the middle when there is only one value", () => {
    expect(linearScale(3, 3, 0, 100)(3)).toBe(50);
  });

  it("chooses round ticks inside the domain without stray digits", () => {
    expect(roundTicks(0, 1, 5)).toEqual([0, 0.2, 0.4, 0.6, 0.8, 1]);
    expect(roundTicks(-37, 112, 6)).toEqual([0, 50, 100]);
    expect(roundTicks(5, 5, 4)).toEqual([5]);
  });

  it("widens a domain to round ends", () => {
    expect(roundDomain(-12.3, 187, 6)).toEqual([-50, 200]);
  });

  it("finds the first days of months and spaces days evenly over a leap day", () => {
    expect(monthStarts("2027-12-20" as Day, "2028-03-01" as Day)).toEqual([
      "2028-01-01",
      "2028-02-01",
      "2028-03-01",
    ]);
    const x = dayScale("2028-02-28" as Day, "2028-03-01" as Day, 0, 20);
    expect(x("2028-02-29" as Day)).toBe(10);
  });
});
