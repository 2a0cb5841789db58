import { describe, expect, it } from "vitest";
import { type FitRequest, fitBed, nearestPlans } from "@/lib/design/fit-bed";
import { plotCode } from "@/lib/design/plot-code";

const request: FitRequest = {
  design: "rcbd",
  entries: 4,
  blocks: 4,
  plantsPerPlot: 3,
  betweenPlantsMm: 300,
  betweenRowsMm: 300,
  beds: [{ id: "long", widthMm: 1200, lengthMm: 3600 }],
};

function refusalOf(changes: Partial<FitRequest>) {
  const outcome = fitBed({ ...request, ...changes });
  if (outcome.ok) throw new Error("it fitted");
  return outcome.faults;
}

describe("fitting plots to beds", () => {
  it("lays four plots of three across a bed 1.2 m wide, one block after another", () => {
    const outcome = fitBed(request);
    expect(outcome).toMatchObject({ ok: true, value: { widthMm: 300, lengthMm: 900, plantRows: 1 } });
    if (!outcome.ok) return;
    expect(outcome.value.cells).toHaveLength(16);
    expect(outcome.value.cells[5]).toEqual({
      bedId: "long",
      block: 2,
      row: 2,
      column: 2,
      xMm: 300,
      yMm: 900,
    });
  });

  it("says what is needed, what there is and what would fit", () => {
    expect(refusalOf({ beds: [{ id: "short", widthMm: 1200, lengthMm: 2700 }] })).toEqual([
      {
        place: "blocks",
        found: "16 plots of 3 plants at 30 cm × 30 cm need 3.6 m of a bed 1.2 m wide; this one is 2.7 m",
        wanted: "3 blocks, or 2 plants a plot",
      },
    ]);
  });

  it("keeps a block in one bed, and says so when that is what is wrong", () => {
    const beds = [
      { id: "one", widthMm: 1200, lengthMm: 1600 },
      { id: "two", widthMm: 1200, lengthMm: 2000 },
    ];
    expect(refusalOf({ beds })[0]).toMatchObject({
      found:
        "16 plots of 3 plants at 30 cm × 30 cm need 3.6 m of a bed 1.2 m wide; these are 1.6 m and 2 m, and a block is not split between beds",
      wanted: "3 blocks, or 2 plants a plot",
    });
  });

  it("spreads blocks over the beds as evenly as they hold", () => {
    const beds = [
      { id: "short", widthMm: 1200, lengthMm: 900 },
      { id: "long", widthMm: 1200, lengthMm: 3600 },
    ];
    const outcome = fitBed({ ...request, beds });
    if (!outcome.ok) throw new Error("it did not fit");
    const inShort = outcome.value.cells.filter((cell) => cell.bedId === "short");
    expect(new Set(inShort.map((cell) => cell.block))).toEqual(new Set([1]));
  });

  it("refuses a bed narrower than a row, at the bed's own field", () => {
    expect(refusalOf({ beds: [{ id: "rim", widthMm: 250, lengthMm: 9000 }] })[0]).toMatchObject({
      place: "beds.0.widthMm",
      wanted: "a bed at least 30 cm wide, or rows closer together",
    });
  });

  it("has nothing to propose where not a single plant of each fits", () => {
    const narrow = { ...request, entries: 30, beds: [{ id: "pot", widthMm: 400, lengthMm: 1000 }] };
    expect(nearestPlans(narrow)).toEqual([]);
    expect(refusalOf(narrow)[0].wanted).toBe("fewer varieties, closer spacing or a longer bed");
  });

  it("proposes fewer of both where neither alone is enough", () => {
    const tight = { ...request, beds: [{ id: "stub", widthMm: 1200, lengthMm: 600 }] };
    expect(nearestPlans(tight)).toEqual([{ blocks: 2, plantsPerPlot: 1 }]);
  });

  it("centres the plots in a bed that they do not fill", () => {
    const outcome = fitBed({ ...request, beds: [{ id: "wide", widthMm: 1300, lengthMm: 3600 }] });
    expect(outcome.ok && outcome.value.cells[0].xMm).toBe(50);
  });

  it("needs no whole blocks where there are none", () => {
    const beds = [
      { id: "one", widthMm: 1200, lengthMm: 1800 },
      { id: "two", widthMm: 600, lengthMm: 3600 },
    ];
    const outcome = fitBed({ ...request, design: "crd", entries: 5, blocks: 3, beds });
    if (!outcome.ok) throw new Error("it did not fit");
    expect(outcome.value.cells).toHaveLength(15);
    expect(outcome.value.cells.every((cell) => cell.block === null)).toBe(true);
  });
});

describe("stake codes", () => {
  it("are a block's letter and a number, without the letters that read as figures", () => {
    expect([1, 8, 9, 14, 24, 25, 40].map((block) => plotCode(block, 2))).toEqual([
      "A2",
      "H2",
      "J2",
      "P2",
      "Z2",
      "AA2",
      "AR2",
    ]);
    expect(plotCode(null, 12)).toBe("P12");
  });
});
