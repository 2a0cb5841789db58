import { describe, expect, it } from "vitest";
import { sentenceForOwed, sentenceForSureness, sentenceForVerdicts } from "@/lib/report/sentence-for-season";
import type { Day } from "@/lib/words/day";

describe("a season's trials in words", () => {
  it("say what an answer rests on and how sure it is", () => {
    const asOf = "2026-03-28" as Day;
    expect(sentenceForSureness({ asOf, plants: 120, plots: 20, reach: 0.176 })).toBe(
      "From 120 plants in 20 plots as of Sat 28 Mar 2026; each variety’s share is known to about 18 in a hundred either way.",
    );
    expect(sentenceForSureness({ asOf: null, plants: 6, plots: 1, reach: null })).toBe(
      "From 6 plants in 1 plot.",
    );
  });

  it("list verdicts by what was chosen, and count those still owed", () => {
    expect(
      sentenceForVerdicts([
        { variety: "Hollin", choice: "try once more" },
        { variety: "Carrow", choice: "grow again" },
        { variety: "Tansy Mill", choice: "try once more" },
      ]),
    ).toBe("Grow again: Carrow. Try once more: Hollin and Tansy Mill.");
    expect(sentenceForVerdicts([])).toBe("");
    expect([sentenceForOwed(1), sentenceForOwed(3)]).toEqual([
      "One verdict is still to be given.",
      "3 verdicts are still to be given.",
    ]);
  });
});
