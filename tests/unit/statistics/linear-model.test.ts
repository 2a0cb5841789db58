import { describe, expect, it } from "vitest";
import { analysisOfVariance } from "@/lib/statistics/analysis-of-variance";
import { coefficientOfVariation } from "@/lib/statistics/coefficient-of-variation";
import { factor } from "@/lib/statistics/factor";
import { leastSignificantDifference } from "@/lib/statistics/least-significant-difference";
import { linearModel } from "@/lib/statistics/linear-model";
import { allPairs, marginalDifferences, marginalMeans } from "@/lib/statistics/marginal-means";
import { relativeEfficiency } from "@/lib/statistics/relative-efficiency";
import { tukeyOneDf } from "@/lib/statistics/tukey-one-df";

/** Blocks × varieties, by a value for each; null where a plot is missing. */
function trial(blocks: number, varieties: number, value: (block: number, variety: number) => number | null) {
  const plots = Array.from({ length: blocks * varieties }, (_, at) => {
    const [block, variety] = [Math.floor(at / varieties), at % varieties];
    return { block: `b${block}`, variety: `v${variety}`, y: value(block, variety) };
  }).filter((plot): plot is { block: string; variety: string; y: number } => plot.y !== null);
  return linearModel(
    plots.map(({ y }) => y),
    [
      factor(
        "block",
        plots.map(({ block }) => block),
      ),
      factor(
        "variety",
        plots.map(({ variety }) => variety),
      ),
    ],
    [["block"], ["variety"]],
  );
}

// Any numbers that fit no pattern.
const rough = (block: number, variety: number) =>
  ((block * 37 + variety * 61 + block * variety * 17) % 23) / 7;

describe("linearModel", () => {
  it("gives two blocks of two varieties as reckoned by hand", () => {
    // 3, 5 in one block, 4, 8 in the other: block means 4 and 6, variety means 3.5 and 6.5, every residual ±½.
    const model = trial(2, 2, (block, variety) => [3, 5, 4, 8][2 * block + variety]);
    expect([...model.residuals].map(Math.abs)).toEqual(
      [0.5, 0.5, 0.5, 0.5].map((half) => expect.closeTo(half, 14)),
    );
    expect(analysisOfVariance(model).map(({ term, df, ss }) => [term, df, ss])).toEqual([
      ["block", 1, expect.closeTo(4, 13)],
      ["variety", 1, expect.closeTo(9, 13)],
      ["residual", 1, expect.closeTo(1, 13)],
    ]);
    const [difference] = marginalDifferences(model, "variety", [["v1", "v0"]], 0.95);
    expect(difference.estimate).toBeCloseTo(3, 13);
    expect(difference.se).toBeCloseTo(1, 13);
    expect(difference.df).toBe(1);
    expect(model.leverages.every((leverage) => Math.abs(leverage - 0.75) < 1e-14)).toBe(true);
  });

  it("loses no digits to an offset common to all plots", () => {
    const plain = trial(3, 4, (block, variety) => Math.round(64 * rough(block, variety)) / 64);
    const offset = trial(3, 4, (block, variety) => 2 ** 40 + Math.round(64 * rough(block, variety)) / 64);
    expect(offset.residualSs / plain.residualSs).toBeCloseTo(1, 12);
  });

  it("says which columns are aliased where a factor repeats another", () => {
    const names = ["a", "a", "b", "b", "c", "c"];
    const model = linearModel(
      [1, 2, 4, 3, 6, 5],
      [factor("bed", names), factor("cover", names)],
      [["bed"], ["cover"]],
    );
    expect(model.aliased).toEqual(["cover b", "cover c"]);
    expect(analysisOfVariance(model)[1]).toMatchObject({
      term: "cover",
      df: 0,
      f: null,
      reason: "not estimable",
    });
    expect(marginalMeans(model, "cover", 0.95)[0]).toMatchObject({ estimate: null, reason: "not estimable" });
  });

  it("estimates what connected plots tell and nothing across a gap that no variety bridges", () => {
    const model = trial(4, 4, (block, variety) => (block < 2 === variety < 2 ? rough(block, variety) : null));
    const pairs = marginalDifferences(model, "variety", allPairs(["v0", "v1", "v2", "v3"]), 0.95);
    const reasons = Object.fromEntries(pairs.map((pair) => [`${pair.level} ${pair.reference}`, pair.reason]));
    expect(reasons).toEqual({
      "v1 v0": null,
      "v2 v0": "not estimable",
      "v2 v1": "not estimable",
      "v3 v0": "not estimable",
      "v3 v1": "not estimable",
      "v3 v2": null,
    });
  });

  it("puts no error to one block, nor to one plot a variety", () => {
    const model = trial(1, 4, rough);
    expect(model.residualMs).toBeNull();
    expect(marginalMeans(model, "variety", 0.95)[2]).toEqual({
      level: "v2",
      count: 1,
      estimate: expect.closeTo(rough(0, 2), 13),
      se: null,
      df: null,
      low: null,
      high: null,
      t: null,
      p: null,
      reason: "no residual df",
    });
    expect(analysisOfVariance(model)[1].reason).toBe("no residual df");
    expect(coefficientOfVariation(model.residualMs, 5)).toBeNull();
  });

  it.each([
    ["identical yields", () => 0.1],
    ["yields of nothing", () => 0],
    [
      "yields that blocks and varieties explain to the last digit",
      (b: number, v: number) => b * 0.1 + v * 0.3,
    ],
  ])("says that %s leave no variation, and gives no limits or p", (_name, value) => {
    const model = trial(3, 4, value);
    expect(model.leavesNothing).toBe(true);
    for (const mean of marginalMeans(model, "variety", 0.95)) {
      expect(mean.estimate).not.toBeNull();
      expect(mean).toMatchObject({ se: null, low: null, p: null, reason: "no variation" });
    }
    expect(analysisOfVariance(model)[1]).toMatchObject({ f: null, p: null, reason: "no variation" });
    expect(tukeyOneDf(model).reason).toBe("no variation");
    expect(relativeEfficiency(model)).toBeNull();
    expect(leastSignificantDifference(model, 3, 0.95)).toBeNull();
  });

  it("bears one plot a thousand million times the rest", () => {
    const model = trial(4, 5, (block, variety) =>
      block === 2 && variety === 3 ? 1e9 : rough(block, variety),
    );
    for (const mean of marginalMeans(model, "variety", 0.95))
      for (const value of [mean.estimate, mean.se, mean.low, mean.high, mean.p])
        expect(Number.isFinite(value)).toBe(true);
  });

  it("takes two varieties and sixty", () => {
    expect(marginalMeans(trial(3, 2, rough), "variety", 0.95)).toHaveLength(2);
    const sixty = trial(3, 60, rough);
    expect(sixty.residualDf).toBe(118);
    expect(marginalMeans(sixty, "variety", 0.95).every(({ reason }) => reason === null)).toBe(true);
  });

  it("refuses a yield that is no number, and unequal lists", () => {
    const block = factor("block", ["a", "b"]);
    expect(() => linearModel([1, Number.NaN], [block], [["block"]])).toThrow(
      "linearModel requires finite responses; got NaN",
    );
    expect(() => linearModel([1, 2, 3], [block], [["block"]])).toThrow(
      "linearModel requires a response per observation; got 3",
    );
    expect(() => linearModel([1, 2], [block], [["cover"]])).toThrow(
      "designMatrix requires terms made of the variables given; got cover",
    );
  });
});

describe("designs with interactions", () => {
  const cover = factor("cover", ["net", "net", "net", "net", "none", "none", "none"]);
  const variety = factor("variety", ["A", "A", "B", "B", "A", "A", "B"]);
  const model = linearModel(
    [4, 6, 9, 11, 1, 3, 5],
    [cover, variety],
    [["cover"], ["variety"], ["cover", "variety"]],
  );

  it("weigh cells alike in a marginal mean, however many plots they kept", () => {
    // Cell means 5, 10, 2, 5.
    const means = marginalMeans(model, "variety", 0.95).map(({ estimate }) => estimate);
    expect(means).toEqual([expect.closeTo(3.5, 13), expect.closeTo(7.5, 13)]);
  });

  it("hold another factor at a level where asked", () => {
    const [difference] = marginalDifferences(model, "variety", [["B", "A"]], 0.95, { cover: "none" });
    expect(difference.estimate).toBeCloseTo(3, 13);
  });

  it("give neither type III tests nor means that an empty cell leaves open", () => {
    const gap = linearModel(
      [4, 6, 9, 11, 1, 3],
      [
        factor(
          "cover",
          cover.levels.flatMap((level) => Array(level === "net" ? 4 : 2).fill(level)),
        ),
        factor("variety", ["A", "A", "B", "B", "A", "A"]),
      ],
      [["cover"], ["variety"], ["cover", "variety"]],
    );
    expect(analysisOfVariance(gap, "type III").map(({ reason }) => reason)).toEqual([
      "not estimable",
      "not estimable",
      "not estimable",
      null,
    ]);
    expect(marginalMeans(gap, "variety", 0.95).map(({ reason }) => reason)).toEqual([null, "not estimable"]);
    expect(marginalMeans(gap, "variety", 0.95, { cover: "net" }).map(({ reason }) => reason)).toEqual([
      null,
      null,
    ]);
  });
});
