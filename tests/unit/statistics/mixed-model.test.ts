import { describe, expect, it } from "vitest";
import { balancedSplitPlot } from "@/lib/statistics/balanced-split-plot";
import { crossedFactor, factor } from "@/lib/statistics/factor";
import { allPairs, marginalDifferences, marginalMeans } from "@/lib/statistics/marginal-means";
import { mixedModel } from "@/lib/statistics/mixed-model";

/** Blocks × covers × varieties, by a value for each; null where a plot is missing. */
function splitPlot(
  blocks: number,
  covers: number,
  varieties: number,
  value: (block: number, cover: number, variety: number) => number | null,
) {
  const cells = Array.from({ length: blocks * covers * varieties }, (_, at) => {
    const block = Math.floor(at / (covers * varieties));
    const cover = Math.floor(at / varieties) % covers;
    return { block, cover, variety: at % varieties, y: value(block, cover, at % varieties) };
  }).filter((plot): plot is { block: number; cover: number; variety: number; y: number } => plot.y !== null);
  const named = (name: "block" | "cover" | "variety") =>
    factor(
      name,
      cells.map((cell) => `${name} ${cell[name]}`),
    );
  return {
    y: cells.map(({ y }) => y),
    block: named("block"),
    cover: named("cover"),
    variety: named("variety"),
  };
}
type Plots = ReturnType<typeof splitPlot>;

const terms = [["cover"], ["variety"], ["cover", "variety"]];
const fitted = ({ y, block, cover, variety }: Plots) =>
  mixedModel(y, [cover, variety], terms, [crossedFactor("main plot", [block, cover]), block]);
const byStrata = ({ y, block, cover, variety }: Plots) => balancedSplitPlot(y, block, cover, variety);

const rough = (...at: number[]) =>
  (at.reduce((sum, one, place) => sum * 31 + one * (place * 6 + 11), 7) % 29) / 6;

describe("mixedModel", () => {
  it("gives two blocks of two varieties as reckoned by hand", () => {
    // 3, 5 and 10, 14: varieties 6.5 and 9.5; block means 4 and 12; residuals ±½ on 1 df, so the residual is 1.
    // Block mean square 2 × (4² + 4²) = 64, so the blocks' variance is (64 − 1)/2.
    const model = mixedModel(
      [3, 5, 10, 14],
      [factor("variety", ["A", "B", "A", "B"])],
      [["variety"]],
      [factor("block", ["1", "1", "2", "2"])],
    );
    expect(model.components).toEqual([
      { component: "block", estimate: expect.closeTo(31.5, 8), reason: null },
      { component: "residual", estimate: expect.closeTo(1, 9), reason: null },
    ]);
    const [difference] = marginalDifferences(model, "variety", [["B", "A"]], 0.95);
    // Within blocks: √(2 × 1/2) = 1 on 1 df. F = 3²/1.
    expect(difference).toMatchObject({ estimate: expect.closeTo(3, 10), se: expect.closeTo(1, 9) });
    expect(difference.df).toBeCloseTo(1, 9);
    expect(model.tests[0]).toMatchObject({ f: expect.closeTo(9, 8), df1: 1, df2: expect.closeTo(1, 8) });
    // A mean: √((31.5 + 1)/2); Satterthwaite's df of (64 + 1)/4 from mean squares on 1 df each: 65²/(64² + 1).
    const [mean] = marginalMeans(model, "variety", 0.95);
    expect(mean.se).toBeCloseTo(Math.sqrt(32.5 / 2), 8);
    expect(mean.df).toBeCloseTo(65 ** 2 / (64 ** 2 + 1), 7);
    // Blocks lie ∓4 from their mean; shrunk by 31.5/(31.5 + ½).
    expect(model.predictions.get("block")?.map(({ estimate }) => estimate)).toEqual([
      expect.closeTo((-4 * 31.5) / 32, 8),
      expect.closeTo((4 * 31.5) / 32, 8),
    ]);
  });

  it("says that a variance is at zero where blocks are more alike than chance would have them", () => {
    const model = mixedModel(
      [1, 2, 3, 3, 1, 2, 2, 3, 1],
      [factor("variety", ["A", "B", "C", "A", "B", "C", "A", "B", "C"])],
      [["variety"]],
      [factor("block", ["1", "1", "1", "2", "2", "2", "3", "3", "3"])],
    );
    expect(model.components[0]).toEqual({ component: "block", estimate: 0, reason: "at zero" });
    expect(model.predictions.get("block")?.every(({ estimate, se }) => estimate === 0 && se === 0)).toBe(
      true,
    );
    expect(model.tests[0].p).toBeGreaterThan(0);
  });

  it("leaves out random terms that say nothing of their own, and says so", () => {
    const { y, block, cover, variety } = splitPlot(3, 2, 3, rough);
    const plot = crossedFactor("plot", [block, cover, variety]);
    const again = { ...block, name: "block again" };
    const model = mixedModel(y, [cover, variety], terms, [block, plot, again, { ...cover, name: "covers" }]);
    expect(model.components.map(({ component, reason }) => [component, reason])).toEqual([
      ["block", null],
      ["plot", "not estimable"],
      ["block again", "not estimable"],
      ["covers", "not estimable"],
      ["residual", null],
    ]);
    const plain = mixedModel(y, [cover, variety], terms, [block]);
    expect(model.tests).toEqual(plain.tests);
  });

  it.each([
    ["identical yields", () => 5],
    ["yields of nothing", () => 0],
    [
      "yields told to the last digit by blocks and varieties",
      (b: number, c: number, v: number) => b * 1.1 + c + v,
    ],
  ])("gives estimates alone for %s", (_name, value) => {
    const model = fitted(splitPlot(3, 2, 3, value));
    expect(
      model.components.every(({ estimate, reason }) => estimate === null && reason === "no variation"),
    ).toBe(true);
    expect(model.tests.every(({ p, reason }) => p === null && reason === "no variation")).toBe(true);
    for (const mean of marginalMeans(model, "variety", 0.95)) {
      expect(mean.estimate).not.toBeNull();
      expect(mean).toMatchObject({ se: null, p: null, reason: "no variation" });
    }
  });

  it("puts no error to one plot a treatment", () => {
    const model = fitted(splitPlot(1, 2, 3, rough));
    expect(model.tests[0].reason).toBe("no residual df");
    expect(marginalMeans(model, "cover", 0.95)[0]).toMatchObject({ se: null, reason: "no residual df" });
    expect(model.components.every(({ estimate }) => estimate === null)).toBe(true);
  });

  it("gives no F where the plots cannot carry Kenward and Roger's (R's pbkrtest: −1 df)", () => {
    const model = mixedModel(
      [0.31, -0.2, 0.52, 0.11, -0.43, 0.27, 0.05, 0.61],
      [factor("variety", ["A", "B", "A", "B", "C", "D", "C", "D"])],
      [["variety"]],
      [factor("block", ["1", "1", "2", "2", "3", "3", "4", "4"])],
    );
    expect(model.tests[0]).toEqual({
      term: "variety",
      f: null,
      df1: 3,
      df2: null,
      p: null,
      reason: "no residual df",
    });
    // R: emmeans(lmer(y ~ v + (1 | b)), "v"), A 0.415, standard error 0.174 on 2.13 df.
    const [mean] = marginalMeans(model, "variety", 0.95);
    expect([mean.estimate, mean.se, mean.df].map((value) => Number(value?.toPrecision(3)))).toEqual([
      0.415, 0.174, 2.13,
    ]);
  });

  it("keeps a contrast across an empty cell from being guessed", () => {
    const model = fitted(splitPlot(3, 2, 3, (b, c, v) => (c === 1 && v === 2 ? null : rough(b, c, v))));
    expect(marginalMeans(model, "variety", 0.95).map(({ reason }) => reason)).toEqual([
      null,
      null,
      "not estimable",
    ]);
    expect(
      marginalMeans(model, "variety", 0.95, { cover: "cover 0" }).every(({ reason }) => reason === null),
    ).toBe(true);
  });

  it("takes sixty varieties in blocks with gaps", () => {
    const { y, block, variety } = splitPlot(4, 1, 60, (b, c, v) =>
      (b * 7 + v) % 9 === 0 ? null : b + rough(b, c, v),
    );
    const model = mixedModel(y, [variety], [["variety"]], [block]);
    const pairs = marginalDifferences(model, "variety", allPairs(variety.levels), 0.95);
    expect(pairs.every(({ se, df }) => Number.isFinite(se) && Number.isFinite(df))).toBe(true);
  });
});

describe("balancedSplitPlot", () => {
  it("tests each effect in its own stratum, as reckoned by hand", () => {
    // Two blocks × two covers × two varieties; totals of main plots 4, 10, 8, 18, of blocks 14, 26.
    const y = [1, 3, 4, 6, 2, 6, 8, 10];
    const plot = byStrata(splitPlot(2, 2, 2, (b, c, v) => y[4 * b + 2 * c + v]));
    // Cover totals 12, 28; block × cover left over (4 + 18 − 10 − 8)²/8 = 2. Blocks (26 − 14)²/8 = 18.
    // Variety totals 15, 25; interaction totals 3, 9, 12, 16; within plots left over: each main plot's difference
    // 2, 2, 4, 2 less its cover's mean difference 3, 2 gives (1 + 0 + 1 + 0)/2 = 1 on 2 df.
    expect(plot?.strata).toEqual([
      { stratum: "block", df: 1, ms: expect.closeTo(18, 12) },
      { stratum: "block × cover", df: 1, ms: expect.closeTo(2, 12) },
      { stratum: "residual", df: 2, ms: expect.closeTo(0.5, 12) },
    ]);
    expect(plot?.tests.map(({ f, df1, df2 }) => [f, df1, df2])).toEqual([
      [expect.closeTo(16 ** 2 / 8 / 2, 11), 1, 1],
      [expect.closeTo(10 ** 2 / 8 / 0.5, 11), 1, 2],
      [expect.closeTo(0.5 / 0.5, 11), 1, 2],
    ]);
    // Cover: √(2 × 2/4) on 1 df; variety: √(2 × ½/4) on 2 df.
    if (plot === null) throw new Error("balanced");
    const [cover] = marginalDifferences(plot, "cover", [["cover 1", "cover 0"]], 0.95);
    const [variety] = marginalDifferences(plot, "variety", [["variety 1", "variety 0"]], 0.95);
    expect([cover.se, cover.df, variety.se, variety.df]).toEqual(
      [1, 1, 0.5, 2].map((value) => expect.closeTo(value, 11)),
    );
  });

  it("keeps a main-plot error below the subplot error as it is, and says that its variance is at zero", () => {
    const plots = splitPlot(
      4,
      2,
      3,
      (b, c, v) => b + 3 * c + 0.3 * ((b * c) % 2) + [0, 4, -4][(b + c + v) % 3],
    );
    const plot = byStrata(plots);
    expect(plot?.components[1]).toEqual({ component: "block × cover", estimate: 0, reason: "at zero" });
    expect(plot?.tests[0]).toMatchObject({ df1: 1, df2: 3 });
  });

  it("is not for gaps, doubled plots, or a factor of one level", () => {
    expect(byStrata(splitPlot(3, 2, 3, (b, c, v) => (b + c + v === 0 ? null : rough(b, c, v))))).toBeNull();
    expect(byStrata(splitPlot(3, 1, 3, rough))).toBeNull();
    expect(byStrata(splitPlot(3, 2, 1, rough))).toBeNull();
    const { y, block, cover, variety } = splitPlot(2, 2, 2, rough);
    const doubled = { ...block, codes: block.codes.map(() => 0) };
    expect(balancedSplitPlot(y, doubled, cover, variety)).toBeNull();
  });

  it("gives one block's estimates without an error", () => {
    const plot = byStrata(splitPlot(1, 2, 3, rough));
    expect(plot?.tests.map(({ reason }) => reason)).toEqual([
      "no residual df",
      "no residual df",
      "no residual df",
    ]);
  });

  it("says where a stratum leaves nothing over, and lends it no other stratum's error", () => {
    const plot = byStrata(splitPlot(3, 2, 3, (b, c, v) => b * 2.2 + c * 0.7 + v));
    expect(plot?.tests.map(({ reason }) => reason)).toEqual(["no variation", "no variation", "no variation"]);
    if (plot === null) throw new Error("balanced");
    expect(marginalDifferences(plot, "cover", [["cover 1", "cover 0"]], 0.95)[0]).toMatchObject({
      estimate: expect.closeTo(0.7, 10),
      se: null,
      reason: "no variation",
    });
    expect(marginalMeans(plot, "cover", 0.95)[0].se).toBeGreaterThan(0);
  });
});
