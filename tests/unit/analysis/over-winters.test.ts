import { describe, expect, it } from "vitest";
import type { Proposal } from "@/lib/analysis/finding";
import { proposalOverWinters } from "@/lib/analysis/over-winters";
import type { SeasonCount } from "@/lib/analysis/winters-together";

const met: Proposal = {
  variety: "Pennick",
  choice: "grow again",
  onFigures: "grow again",
  floors: [{ of: "survival", floor: 0.6, probability: 0.93 }],
  barredBy: null,
  cappedBy: null,
  depends: false,
  winters: 1,
  reasons: [],
  settledBy: null,
};
const good: SeasonCount = { season: "2024/25", standing: 15, effectivePlants: 18 };

describe("a proposal with earlier winters beside it", () => {
  it("goes no higher than once more on the first winter", () => {
    expect(proposalOverWinters(met, [], 0.8)).toMatchObject({
      choice: "try once more",
      onFigures: "grow again",
      cappedBy: "this is its first winter here, and a verdict rests on two",
      winters: 1,
    });
  });

  it("grows again on two winters that agree, whatever the order of the trials of one season", () => {
    expect(proposalOverWinters(met, [good, good], 0.8)).toMatchObject({
      choice: "grow again",
      cappedBy: null,
      winters: 2,
    });
  });

  it("takes several trials of one season as one winter, which met the floor or missed it together", () => {
    const bad = { ...good, standing: 3 };
    expect(proposalOverWinters(met, [good, bad], 0.8)).toMatchObject({
      choice: "try once more",
      winters: 2,
      cappedBy: expect.stringMatching(/; 2024\/25 missed it$/),
    });
    // Neither is sure alone; 26 of 36 together is.
    const unsure = { ...good, standing: 12.5 };
    expect(proposalOverWinters(met, [unsure], 0.9).choice).toBe("try once more");
    expect(proposalOverWinters(met, [unsure, good], 0.9).choice).toBe("grow again");
  });

  it("is held down until two winters met the floor, and names one that missed it", () => {
    const bad = { ...good, standing: 3 };
    expect(proposalOverWinters(met, [bad], 0.8)).toMatchObject({
      choice: "try once more",
      cappedBy:
        "of its 2 winters here this one alone met the floor as surely as was asked; 2024/25 missed it",
    });
    const unsure = { ...good, standing: 11 };
    expect(proposalOverWinters(met, [unsure], 0.8).cappedBy).toBe(
      "of its 2 winters here this one alone met the floor as surely as was asked",
    );
    const before = { ...good, season: "2023/24" };
    expect(proposalOverWinters(met, [bad, before], 0.8)).toMatchObject({ choice: "grow again", winters: 3 });
  });

  it("is held down by a tender check that stood, however many winters there were", () => {
    const barred = { ...met, barredBy: "the tender check stood" };
    expect(proposalOverWinters(barred, [good], 0.8)).toMatchObject({
      choice: "try once more",
      cappedBy: "the tender check stood",
    });
  });

  it("drops on one winter where the figures say so: what died here need not be tried twice", () => {
    const missed: Proposal = { ...met, choice: "drop", onFigures: "drop" };
    expect(proposalOverWinters(missed, [], 0.8)).toMatchObject({ choice: "drop", cappedBy: null });
  });

  it("speaks of seasons where the rule has no floor for survival", () => {
    const byYield: Proposal = { ...met, floors: [{ of: "yield", floor: 0.9, probability: 0.95 }] };
    expect(proposalOverWinters(byYield, [], 0.8).cappedBy).toBe(
      "this is its first season here, and a verdict rests on two",
    );
  });
});
