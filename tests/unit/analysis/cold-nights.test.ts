import { describe, expect, it } from "vitest";
import { coldBetweenLooks } from "@/lib/analysis/cold-nights";
import { coldRows } from "@/lib/report/cold-rows";
import { day } from "./invented-record";

const looks = [day("2027-01-01"), day("2027-01-08"), day("2027-01-15")];
const nights = [
  { day: day("2027-01-01"), minDeciC: -90 },
  { day: day("2027-01-03"), minDeciC: -51 },
  { day: day("2027-01-08"), minDeciC: -50 },
  { day: day("2027-01-09"), minDeciC: 0 },
];

describe("the cold between looks", () => {
  it("counts a night towards the look that follows it, and below means below", () => {
    expect(coldBetweenLooks(looks, nights)).toEqual([
      { from: looks[0], until: looks[1], belowFreezing: 2, belowMinusFive: 1, coldestDeciC: -51 },
      { from: looks[1], until: looks[2], belowFreezing: 0, belowMinusFive: 0, coldestDeciC: 0 },
    ]);
  });

  it("tells only of stretches with frost, to a tenth of a degree", () => {
    expect(coldRows(coldBetweenLooks(looks, nights)).rows).toEqual([
      ["Fri 1 Jan", "Fri 8 Jan", "2", "1", "−5.1 °C"],
    ]);
  });
});
