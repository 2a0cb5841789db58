import { describe, expect, it } from "vitest";
import { effectiveMainPlots, type MainPlotCount } from "@/lib/statistics/effective-main-plots";

/** Standing by cover, block and variety, eight plants a plot. */
function covers(standing: number[][][]): MainPlotCount[] {
  return standing.flatMap((blocks, cover) =>
    blocks.flatMap((varieties, block) =>
      varieties.map((count, variety) => ({
        treatment: ["net", "open"][cover],
        mainPlot: `${cover} ${block}`,
        block: `b${block}`,
        variety: `v${variety}`,
        setOut: 8,
        standing: count,
      })),
    ),
  );
}

describe("effectiveMainPlots", () => {
  it("takes all plants of a main plot as one cluster, on blocks − 1 df for two covers", () => {
    const { dispersion, treatments } = effectiveMainPlots(
      covers([
        [
          [8, 6],
          [7, 5],
          [8, 7],
        ],
        [
          [5, 2],
          [6, 3],
          [4, 1],
        ],
      ]),
      0.95,
    );
    expect(dispersion.df).toBe(2);
    expect(treatments[0]).toMatchObject({
      treatment: "net",
      plots: 3,
      setOut: 48,
      standing: 41,
      clusterSize: 16,
    });
  });

  it("does not take unlike varieties for clumping", () => {
    // Each main plot stands at one half, by one variety that lives and one that dies.
    const { dispersion } = effectiveMainPlots(
      covers([
        [
          [8, 0],
          [8, 0],
        ],
        [
          [8, 0],
          [8, 0],
        ],
      ]),
      0.95,
    );
    expect(dispersion.f).toBeCloseTo(0, 12);
    expect(dispersion.effectiveDf).toBeCloseTo(1, 12);
  });

  it("falls back on the prior with one block, and has no number for a cover without plants", () => {
    const plots = covers([[[8, 6]], [[5, 2]]]).map((plot) =>
      plot.treatment === "open" ? { ...plot, setOut: 0, standing: 0 } : plot,
    );
    const { dispersion, clumping, treatments } = effectiveMainPlots(plots, 0.95);
    expect(dispersion.df).toBe(0);
    // The prior ∝ cos⁶θ is Beta(½, 7/2), with mean ⅛.
    expect(clumping.mean).toBeCloseTo(1 / 8, 10);
    expect(treatments[1]).toMatchObject({ treatment: "open", share: null, low: null });
  });

  it("refuses a main plot under two covers", () => {
    const [first, ...rest] = covers([[[8, 6]], [[5, 2]]]);
    expect(() => effectiveMainPlots([{ ...first, treatment: "open" }, ...rest], 0.95)).toThrow(
      "effectiveMainPlots requires one treatment and block a main plot; got 0 0",
    );
  });
});
