import { describe, expect, it } from "vitest";
import { factor } from "@/lib/statistics/factor";
import { logRatioFloorProbability } from "@/lib/statistics/log-ratio-floor-probability";
import { logRatios } from "@/lib/statistics/log-ratios";
import { agreement } from "../agreement";
import reference from "./case.json";

interface Case {
  name: string;
  data: { y: number[]; variety: string[]; block?: string[] };
  check: string;
  expected: { varieties: string[]; ratio: number[]; low: number[]; high: number[]; withZeros: string[] };
}

describe("ratios to the check against R", () => {
  const { agree } = agreement("log ratio", 1e-9);

  it.each(reference.cases as unknown as Case[])("$name", ({ data, check, expected }) => {
    const layout = data.block ? [factor("block", data.block)] : [];
    const found = logRatios(data.y, factor("variety", data.variety), layout, check, 0.95);
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
