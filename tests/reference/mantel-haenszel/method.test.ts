import { describe, expect, it } from "vitest";
import { cochranMantelHaenszel } from "@/lib/statistics/cochran-mantel-haenszel";
import { mantelHaenszelDifference } from "@/lib/statistics/mantel-haenszel-difference";
import { mantelHaenszelOddsRatio } from "@/lib/statistics/mantel-haenszel-odds-ratio";
import reference from "./case.json";

function agree(ours: object | null, theirs: Record<string, number>) {
  const found = new Map<string, number>(Object.entries(ours ?? {}));
  for (const [name, wanted] of Object.entries(theirs))
    expect(Math.abs((found.get(name) ?? Number.NaN) - wanted), name).toBeLessThan(
      reference.tolerance * Math.max(1, Math.abs(wanted)),
    );
}

describe("counts in blocks against R", () => {
  it.each(reference.cases.map((named) => [named.name, named] as const))("%s", (_name, named) => {
    const { strata } = named;
    agree(mantelHaenszelOddsRatio(strata, 0.95), named.oddsRatio);
    agree(mantelHaenszelDifference(strata, 0.95), named.difference);
    agree(cochranMantelHaenszel(strata, false), named.cmh);
    agree(cochranMantelHaenszel(strata, true), named.cmhContinuity);
    // R's own function and package metafor, beside the formulas typed out in case.R.
    const { chiSquare, low, high } = named.mantelhaenTest;
    agree(mantelHaenszelOddsRatio(strata, 0.95), { low, high });
    agree(cochranMantelHaenszel(strata, true), { chiSquare });
    agree(mantelHaenszelDifference(strata, 0.95), named.metaforDifference);
  });
});
