import { describe, expect, it } from "vitest";
import { logRank } from "@/lib/statistics/log-rank";
import { logRankRandomisation, logRankScores } from "@/lib/statistics/log-rank-randomisation";
import { randomStream } from "@/lib/statistics/random-stream";
import type { FollowedPlot } from "@/lib/statistics/standing-limits";

describe("logRank", () => {
  // Day 1: one of two in A lost, with four at risk; day 2: one of B lost, with one of A and two of B.
  const byHand = { times: [1, 3, 2, 3], causes: [1, 0, 1, 0], groups: [0, 0, 1, 1], blocks: null };

  it("gives what is worked by hand", () => {
    const { observed, expected, covariance, chiSquare, df } = logRank(byHand, 2, "log-rank");
    expect(observed).toEqual([1, 1]);
    expect(expected[0]).toBeCloseTo(1 / 2 + 1 / 3, 15);
    expect(covariance[0][0]).toBeCloseTo(1 / 4 + 2 / 9, 15);
    expect(covariance[0][1]).toBeCloseTo(-(1 / 4 + 2 / 9), 15);
    expect(chiSquare).toBeCloseTo((1 / 6) ** 2 / (17 / 36), 14);
    expect(df).toBe(1);
  });

  it("weighs by Peto's (n + 1) estimate: 4/5 on day 1, then × 3/4", () => {
    const { observed } = logRank(byHand, 2, "peto");
    expect(observed[0]).toBeCloseTo(4 / 5, 15);
    expect(observed[1]).toBeCloseTo((4 / 5) * (3 / 4), 15);
  });

  it("has nothing to compare without losses, or where one group alone was watched as they came", () => {
    const none = logRank({ times: [1, 2], causes: [0, 0], groups: [0, 1], blocks: null }, 2, "log-rank");
    expect(none).toMatchObject({ chiSquare: null, p: null, df: 0, reason: "nothing to compare" });
    const alone = logRank(
      { times: [1, 2, 2], causes: [0, 1, 0], groups: [0, 1, 1], blocks: null },
      2,
      "log-rank",
    );
    expect(alone.reason).toBe("nothing to compare");
    expect(logRank({ times: [], causes: [], groups: [], blocks: null }, 3, "log-rank").df).toBe(0);
  });

  it("takes no df for a group that was gone before any loss, and none across blocks that share no group", () => {
    const gone = { times: [1, 2, 3, 2, 3], causes: [0, 1, 0, 1, 1], groups: [0, 1, 1, 2, 2], blocks: null };
    expect(logRank(gone, 3, "log-rank").df).toBe(1);
    const apart = {
      times: [1, 2, 1, 2, 1, 2, 1, 2],
      causes: [1, 1, 1, 0, 1, 1, 0, 1],
      groups: [0, 0, 1, 1, 2, 2, 3, 3],
    };
    expect(logRank({ ...apart, blocks: [0, 0, 0, 0, 1, 1, 1, 1] }, 4, "log-rank").df).toBe(2);
  });

  it("refuses a group that is none", () => {
    expect(() => logRank({ ...byHand, groups: [0, 0, 1, 2] }, 2, "log-rank")).toThrow(
      "logRank requires groups 0 to 1; got 2",
    );
  });
});

describe("whole plots re-dealt", () => {
  const plot = (variety: string, block: string, times: number[], causes: number[]): FollowedPlot => ({
    variety,
    block,
    row: null,
    column: null,
    times,
    causes,
  });
  const plots = [
    plot("Pennick", "1", [9, 9, 9, 4], [0, 0, 0, 1]),
    plot("Hollin", "1", [2, 3, 3, 9], [1, 1, 1, 0]),
    plot("Pennick", "2", [9, 9, 9, 9], [0, 0, 0, 0]),
    plot("Hollin", "2", [2, 2, 9, 9], [1, 1, 0, 0]),
    plot("Pennick", "3", [9, 9, 6, 5], [0, 0, 1, 1]),
    plot("Hollin", "3", [1, 2, 3, 4], [1, 1, 1, 1]),
  ];

  it.each(["log-rank", "peto"] as const)(
    "scores add up to the stratified test's observed − expected (%s)",
    (weight) => {
      const scores = logRankScores(plots, "rcbd", weight) as number[];
      const test = logRank(
        {
          times: plots.flatMap((one) => Array.from(one.times)),
          causes: plots.flatMap((one) => Array.from(one.causes)),
          groups: plots.flatMap((one) => Array.from(one.times, () => (one.variety === "Pennick" ? 0 : 1))),
          blocks: plots.flatMap((one) => Array.from(one.times, () => Number(one.block) - 1)),
        },
        2,
        weight,
      );
      for (const [group, variety] of ["Pennick", "Hollin"].entries()) {
        const sum = scores.reduce(
          (total, score, at) => total + (plots[at].variety === variety ? score : 0),
          0,
        );
        expect(sum).toBeCloseTo(test.observed[group] - test.expected[group], 13);
      }
    },
  );

  it("goes through all 8 deals of three blocks of two: the one made and its mirror are the clearest", () => {
    const pairs = [["Pennick", "Hollin"]] as const;
    const test = logRankRandomisation(plots, "rcbd", pairs, "log-rank", 1000, randomStream(1));
    expect(test).toMatchObject({ deals: 8, enumerated: true });
    expect(test.pairs[0].p).toBe(2 / 8);
    expect(test.overall.p).toBe(2 / 8);
  });

  it("has no score for a plot without plants", () => {
    expect(logRankScores([...plots, plot("Hollin", "1", [], [])], "rcbd", "log-rank").at(-1)).toBeNull();
  });
});
