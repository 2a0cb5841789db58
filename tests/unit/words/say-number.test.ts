import { describe, expect, it } from "vitest";
import {
  decimalsFor,
  inAHundred,
  sayDecimal,
  sayP,
  sayPercent,
  sayPIs,
  sayPoints,
  sayRounded,
  saySigned,
} from "@/lib/words/say-number";

describe("numbers said with the precision that they have", () => {
  it("keeps two digits of the uncertainty", () => {
    expect(sayRounded(141.372, 8.2)).toBe("141.4");
    expect(sayRounded(141.372, 60)).toBe("141");
    expect(sayRounded(0.01234, 0.0031)).toBe("0.0123");
    expect(sayRounded(141.372, null)).toBe("141");
    expect(decimalsFor(0)).toBe(0);
    expect(decimalsFor(Number.POSITIVE_INFINITY)).toBe(0);
  });

  it("never says none or all of a share that is neither", () => {
    expect(inAHundred(0.001)).toBe(1);
    expect(inAHundred(0.9999)).toBe(99);
    expect([inAHundred(0), inAHundred(1), inAHundred(0.875)]).toEqual([0, 100, 88]);
    expect(sayPercent(0.875)).toBe("88 %");
  });

  it("writes a true minus, shows the sign of a difference and no sign on nought", () => {
    expect(sayDecimal(-3.2, 1)).toBe("−3.2");
    expect(sayDecimal(-0.001, 1)).toBe("0.0");
    expect(saySigned(12.4, 10)).toBe("+12");
    expect(saySigned(-0.2, 10)).toBe("0");
    expect(sayPoints(-0.049)).toBe("−5");
    expect([sayPoints(0.375), sayPoints(-0.375)]).toEqual(["+38", "−38"]);
  });

  it("says a p to two digits and no smaller than a thousandth", () => {
    expect([sayP(0.00002), sayP(0.0213), sayP(0.5)]).toEqual(["under 0.001", "0.021", "0.50"]);
    expect([sayPIs(0.00002), sayPIs(0.0213)]).toEqual(["p under 0.001", "p = 0.021"]);
  });
});
