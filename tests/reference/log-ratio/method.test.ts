import { describe, expect, it } from "vitest";
import { factor } from "@/lib/statistics/factor";
import { logRatioFloorProbability } from "@/lib/statistics/log-ratio-floor-probability";
import { logRatios } from "@/lib/statistics/log-ratios";
import { agreement } from "../agreement";
import reference from "./case.json";

interface Case {
  name: string;
  data: { y: number[]; variety: string[]; block?: string[]; mainPlot?: string[]; treatment?: string[] };
  check: string;
  expected: { varieties: string[]; ratio: number[]; low: number[]; high: number[]; withZeros: string[] };
}

function layoutOf({ block, mainPlot, treatment, variety }: Case["data"]): Parameters<typeof logRatios>[2] {
  if (!block) return [];
  if (!mainPlot || !treatment) return [factor("block", block)];
  const inMains = new Set(mainPlot.map((one, plot) => `${one} ${variety[plot]}`));
  return {
    block: factor("block", block),
    mainPlot: factor("main plot", mainPlot),
    treatment: factor("treatment", treatment),
    isVarietyOnMainPlots: inMains.size === new Set(mainPlot).size,
  };
}

describe("ratios to the check against R", () => {
  const exact = agreement("log ratio", 1e-9);
  // lme4 stops looking for the variances sooner than that.
  const fitted = agreement("log ratio, split plot with plots missing", 1e-6); // 1.1e-8 now seen

  it.each(reference.cases as unknown as Case[])("$name", ({ name, data, check, expected }) => {
    const { agree } = name.includes("split plot, four plots missing") ? fitted : exact;
    const found = logRatios(data.y, factor("variety", data.variety), layoutOf(data), check, 0.95);
    expect(found.withZeros).toEqual(expected.withZeros);
    for (const [row, name] of expected.varieties.entries()) {
      const one = found.ratios.find(({ level }) => level === name);
      agree(one?.ratio ?? null, expected.ratio[row]);
      agree(one?.low ?? null, expected.low[row]);
      agree(one?.high ?? null, expected.high[row]);
      if (one) agree(logRatioFloorProbability(one.log, expected.low[row]), 0.975);
    }
  });
});
