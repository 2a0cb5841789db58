import { describe, expect, it } from "vitest";
import type { YieldDifference } from "@/lib/analysis/finding";
import { leaveOneOut } from "@/lib/analysis/leave-one-out";
import { layoutFactors, type ModelPlot, varietyFactor } from "@/lib/analysis/yield-model";
import { linearModel } from "@/lib/statistics/linear-model";
import { marginalDifferences } from "@/lib/statistics/marginal-means";
import { blocksOf, inventedRecord } from "./invented-record";

const record = inventedRecord({ plots: blocksOf(["Pennick", "Hollin", "Carrow"], 4, 8), check: "Hollin" });
const responses = [61, 48, 75, 70, 52, 71, 66, 55, 20, 73, 49, 79];
// One plot is missing, so that leverages differ.
const plots: ModelPlot[] = record.plots
  .map((plot, place) => ({ plot, response: responses[place] }))
  .filter((_, place) => place !== 4);

function differencesOf(some: ModelPlot[]) {
  const variables = [...layoutFactors(some, "rcbd"), varietyFactor(some, record.varieties)];
  const model = linearModel(
    some.map((one) => one.response),
    variables,
    variables.map(({ name }) => [name]),
  );
  const pairs = [
    ["Pennick", "Hollin"],
    ["Carrow", "Hollin"],
  ] as const;
  return marginalDifferences(model, "variety", pairs, 0.95);
}

const whole = differencesOf(plots).map(
  ({ level: variety, reference, ...rest }): YieldDifference => ({
    variety,
    reference,
    estimate: rest.estimate,
    se: rest.se,
    df: rest.df,
    low: rest.low,
    high: rest.high,
    p: rest.p,
    ratio: null,
    ratioLow: null,
    ratioHigh: null,
    plotsWipedOut: 0,
  }),
);

describe("leaving one plot out", () => {
  it("finds the plot that turns a difference, and what it becomes, as fitting again without it does", () => {
    const left = leaveOneOut(record, plots, whole);
    expect(left.map((one) => one.variety)).toEqual(["Pennick", "Carrow"]);
    for (const one of left) {
      const again = differencesOf(plots.filter(({ plot }) => plot.code !== one.plot)).find(
        (other) => other.level === one.variety,
      );
      expect(one.difference).toBeCloseTo(again?.estimate as number, 10);
      const clear = (low: number, high: number) => low > 0 || high < 0;
      const before = whole.find((other) => other.variety === one.variety);
      expect(one.turns).toBe(
        clear(again?.low as number, again?.high as number) !==
          clear(before?.low as number, before?.high as number),
      );
    }
  });

  it("turns at the plot that everything hangs on", () => {
    const carrow = leaveOneOut(record, plots, whole).find((one) => one.variety === "Carrow");
    expect(carrow).toMatchObject({ plot: "C3", turns: true });
  });

  it("says nothing where there are no plots to spare", () => {
    const few = plots.filter(({ plot }) => plot.block === "1");
    expect(leaveOneOut(record, few, whole)).toEqual([]);
  });
});
