import { describe, expect, it } from "vitest";
import { randomStream } from "@/lib/statistics/random-stream";
import { type DealtYield, yieldRandomisation } from "@/lib/statistics/yield-randomisation";
import reference from "./case.json";

const stream = randomStream(1);
const plot = (variety: string, block: string | null, value: number): DealtYield => ({
  variety,
  block,
  row: null,
  column: null,
  value,
});

describe("randomisation tests against R and published counts", () => {
  it("three varieties in three blocks, by the sum of squares of varieties", () => {
    const { data, deals, asClear } = reference.blocks;
    const plots = data.map(([block, variety, value]) => plot(String(variety), String(block), Number(value)));
    const test = yieldRandomisation(plots, "rcbd", [["A", "B"]], "difference", 1, stream);
    expect(test.deals).toBe(deals);
    expect(test.enumerated).toBe(true);
    expect(test.overall.p * deals).toBeCloseTo(asClear, 9);
  });

  it("Darwin's maize: 1,726 of 32,768 deals", () => {
    const { data, deals, asClear } = reference.maize;
    const plots = data.flatMap(([pair, cross, self]) => [
      plot("cross", `pair ${pair}`, cross),
      plot("self", `pair ${pair}`, self),
    ]);
    const test = yieldRandomisation(plots, "rcbd", [["cross", "self"]], "difference", 1, stream);
    expect(test.deals).toBe(deals);
    expect(test.pairs[0].p * deals).toBeCloseTo(asClear, 6);
    expect(test.pairs[0].pFamily).toBe(test.pairs[0].p);
  });

  it("permeability in two groups of ten and five", () => {
    const { data, deals, asClear, coinExactP } = reference.permeability;
    const plots = data.map(([group, value]) => plot(String(group), null, Number(value)));
    const test = yieldRandomisation(plots, "crd", [["A", "B"]], "difference", 1, stream);
    expect(test.deals).toBe(deals);
    expect(test.pairs[0].p * deals).toBeCloseTo(asClear, 8);
    expect(test.pairs[0].p).toBeCloseTo(coinExactP, 12);
    // With two varieties t orders deals as the difference does.
    expect(yieldRandomisation(plots, "crd", [["A", "B"]], "t", 1, stream).pairs[0].p).toBe(test.pairs[0].p);
  });
});
