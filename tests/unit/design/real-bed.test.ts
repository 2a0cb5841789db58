import { describe, expect, it } from "vitest";
import { type FitRequest, fitBed } from "@/lib/design/fit-bed";
import { layOutTrial } from "@/lib/design/lay-out-trial";

const request: FitRequest = {
  design: "rcbd",
  entries: 4,
  blocks: 3,
  plantsPerPlot: 3,
  betweenPlantsMm: 300,
  betweenRowsMm: 300,
  beds: [{ id: "long", widthMm: 1_200, lengthMm: 3_600 }],
};

function cells(change: Partial<FitRequest>) {
  const fit = fitBed({ ...request, ...change });
  if (!fit.ok) throw new Error(JSON.stringify(fit.faults));
  return fit.value;
}

function fault(change: Partial<FitRequest>) {
  const fit = fitBed({ ...request, ...change });
  return fit.ok ? null : fit.faults[0];
}

describe("the side that the path is on", () => {
  it("holds the first plot of every line; the places are the same", () => {
    const left = cells({}).cells;
    const right = cells({ pathSide: "right" }).cells;
    expect(left.slice(0, 4).map((cell) => cell.xMm)).toEqual([0, 300, 600, 900]);
    expect(right.slice(0, 4).map((cell) => cell.xMm)).toEqual([900, 600, 300, 0]);
    const places = (own: typeof left) => own.map(({ xMm, yMm }) => `${xMm} ${yMm}`).sort();
    expect(places(right)).toEqual(places(left));
    expect(right.map((cell) => cell.column)).toEqual(left.map((cell) => cell.column));
  });

  it("is the inner one of each of two beds with the path between them", () => {
    const beds = ["one", "other"].map((id) => ({ id, widthMm: 1_200, lengthMm: 1_800 }));
    const first = (id: string) =>
      cells({ beds, blocks: 4, plantsPerPlot: 2, pathSide: "between" }).cells.find(
        (cell) => cell.bedId === id,
      );
    expect(first("one")?.xMm).toBe(900);
    expect(first("other")?.xMm).toBe(0);
  });

  it("changes no deal: every plot keeps its code and variety", () => {
    const deal = (pathSide: "left" | "right") => {
      const layout = layOutTrial({
        ...request,
        entries: ["a", "b", "c", "d"],
        checks: [],
        levels: [],
        seed: 7,
        pathSide,
      });
      return layout.ok ? layout.value.plots.map(({ code, entryId }) => `${code} ${entryId}`) : [];
    };
    expect(deal("right")).toEqual(deal("left"));
    expect(deal("right")).toHaveLength(12);
  });
});

describe("a row of pots", () => {
  const row = (lengthMm: number) => [{ id: "row", widthMm: 300, lengthMm, potMm: 300 }];
  const potted = { beds: row(4_000), betweenPlantsMm: 150, betweenRowsMm: 150 };

  it("has a plot in every pot, one after another", () => {
    const { cells: plots, widthMm, lengthMm } = cells({ ...potted, plantsPerPlot: 4 });
    expect([widthMm, lengthMm]).toEqual([300, 300]);
    expect(plots).toHaveLength(12);
    expect(plots.map((cell) => cell.yMm)).toEqual(plots.map((_, place) => place * 300));
  });

  it("holds one plant a pot at any spacing", () => {
    expect(
      cells({ ...potted, betweenPlantsMm: 500, betweenRowsMm: 500, plantsPerPlot: 1 }).cells,
    ).toHaveLength(12);
  });

  it("is refused with its numbers: too few pots, too many plants in one, pots beside ground", () => {
    expect(fault({ ...potted, beds: row(3_000), plantsPerPlot: 4 })).toEqual({
      place: "blocks",
      found: "12 plots want a pot each; this row has 10",
      wanted: "2 blocks",
    });
    expect(fault({ ...potted, plantsPerPlot: 30 })).toEqual({
      place: "plantsPerPlot",
      found: "30 plants at 15 cm × 15 cm in a pot 30 cm × 30 cm",
      wanted: "fewer plants in a pot, or a closer spacing",
    });
    const mixed = [...row(2_000), { id: "bed", widthMm: 300, lengthMm: 4_000 }];
    for (const beds of [mixed, [...mixed].reverse()])
      expect(fault({ ...potted, beds })).toMatchObject({
        place: "beds",
        wanted: "rows of pots of one size, or ground",
      });
    expect(fault({ ...potted, design: "latin", blocks: 4 })).toMatchObject({ place: "design" });
  });
});
