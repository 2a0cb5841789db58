import { describe, expect, it } from "vitest";
import { analysisOfDeviance } from "@/lib/statistics/analysis-of-deviance";
import { binomialModel } from "@/lib/statistics/binomial-model";
import { contrast } from "@/lib/statistics/contrast";
import type { Term } from "@/lib/statistics/design-matrix";
import { factor } from "@/lib/statistics/factor";
import { gaussHermite } from "@/lib/statistics/gauss-hermite";
import { williamsWeights } from "@/lib/statistics/williams-weights";

const variety = factor("variety", ["a", "a", "b", "b", "c", "c"]);
const byVariety: Term[] = [["variety"]];

describe("binomialModel", () => {
  it("gives the log odds of each variety's pooled share, by hand", () => {
    const model = binomialModel(
      { hits: [6, 4, 2, 3, 7, 8], setOut: [8, 8, 8, 8, 8, 8] },
      [variety],
      byVariety,
      "known",
    );
    expect(model.coefficients[0]).toBeCloseTo(Math.log(10 / 6), 12);
    expect(model.coefficients[1]).toBeCloseTo(Math.log(5 / 11) - Math.log(10 / 6), 12);
    const difference = contrast(model, Float64Array.of(0, 1, 0), 0.95);
    expect(difference.se).toBeCloseTo(Math.sqrt(1 / 10 + 1 / 6 + 1 / 5 + 1 / 11), 12);
    expect(difference.df).toBe(Number.POSITIVE_INFINITY);
  });

  it("sets aside varieties that lost all or none: what is left is as if they were not there", () => {
    const rows = { hits: [8, 8, 7, 3, 0, 0], setOut: [8, 8, 8, 8, 8, 8] };
    const model = binomialModel(rows, [variety], byVariety, "known");
    // The first variety, the baseline, lost none; the last lost all.
    expect(model.endless).toEqual(["variety b", "variety c"]);
    expect(contrast(model, Float64Array.of(1, 1, 0), 0.95).estimate).toBeCloseTo(Math.log(10 / 6), 12);
    expect(contrast(model, Float64Array.of(0, 1, 0), 0.95).reason).toBe("not estimable");
    expect(contrast(model, Float64Array.of(0, 1, -1), 0.95).reason).toBe("not estimable");
    expect(model.fitted.every(Number.isFinite)).toBe(true);
  });

  it("has nothing estimable when every plant stood, and no NaN anywhere", () => {
    const model = binomialModel(
      { hits: [8, 8, 8, 8, 8, 8], setOut: [8, 8, 8, 8, 8, 8] },
      [variety],
      byVariety,
      "pearson",
    );
    expect(model).toMatchObject({ deviance: 0, nullDeviance: 0, pearson: 0, covariance: null });
    expect(contrast(model, Float64Array.of(0, 1, 0), 0.95)).toMatchObject({
      estimate: null,
      reason: "not estimable",
    });
  });

  it("leaves out a plot with nothing set out", () => {
    const with0 = binomialModel(
      { hits: [6, 0, 2, 3, 7, 8], setOut: [8, 0, 8, 8, 8, 8] },
      [variety],
      byVariety,
      "pearson",
    );
    expect(with0.rows).toBe(5);
    expect(with0.residualDf).toBe(2);
    expect(with0.coefficients[0]).toBeCloseTo(Math.log(3), 12);
  });

  it("has no limits without residual df, and says so", () => {
    const one = binomialModel(
      { hits: [6, 3], setOut: [8, 8] },
      [factor("variety", ["a", "b"])],
      byVariety,
      "pearson",
    );
    expect(contrast(one, Float64Array.of(0, 1), 0.95).reason).toBe("no residual df");
  });

  it("keeps estimates where blocks and varieties are aliased in part", () => {
    const block = factor("block", ["1", "1", "1", "1", "2", "2"]);
    const rows = { hits: [6, 4, 2, 3, 7, 6], setOut: [8, 8, 8, 8, 8, 8] };
    const model = binomialModel(rows, [block, variety], [["block"], ["variety"]], "known");
    expect(contrast(model, Float64Array.of(0, 0, 1, 0), 0.95).estimate).not.toBeNull();
    expect(contrast(model, Float64Array.of(0, 0, 0, 1), 0.95).reason).toBe("not estimable");
  });

  it("refuses more standing than were set out", () => {
    expect(() => binomialModel({ hits: [9], setOut: [8] }, [factor("v", ["a"])], [], "known")).toThrow(
      "binomialModel requires 0 ≤ hits ≤ setOut; got 9 of 8",
    );
  });
});

describe("analysisOfDeviance", () => {
  it("has chi-square tests where the dispersion is known, and no F where it cannot be told", () => {
    const rows = { hits: [6, 2, 7], setOut: [8, 8, 8] };
    const three = factor("variety", ["a", "b", "c"]);
    const known = analysisOfDeviance((terms) => binomialModel(rows, [three], terms, "known"), byVariety);
    expect(known[0]).toMatchObject({ term: "variety", df: 2, f: null, reason: null });
    expect(known[0].p).toBeLessThan(0.1);
    const pearson = analysisOfDeviance((terms) => binomialModel(rows, [three], terms, "pearson"), byVariety);
    expect(pearson[0]).toMatchObject({ f: null, p: null, reason: "no residual df" });
  });
});

describe("williamsWeights", () => {
  it("weighs alike, and says so, where plots scatter no more than binomially", () => {
    const fit = williamsWeights(
      { hits: [4, 4, 2, 2, 6, 6], setOut: [8, 8, 8, 8, 8, 8] },
      [variety],
      byVariety,
    );
    expect(fit).toMatchObject({ correlation: 0, reason: "no more scatter than binomial" });
    expect(fit.weights).toEqual([1, 1, 1, 1, 1, 1]);
  });

  it("stops at a correlation of 1 where plots are all or nothing", () => {
    const fit = williamsWeights(
      { hits: [8, 0, 8, 0, 8, 0], setOut: [8, 8, 8, 8, 8, 8] },
      [variety],
      byVariety,
    );
    expect(fit.correlation).toBe(1);
    expect(williamsWeights({ hits: [3], setOut: [8] }, [factor("v", ["a"])], []).reason).toBe(
      "no residual df",
    );
  });
});

describe("gaussHermite", () => {
  it.each([1, 2, 7, 25, 60])("has the normal distribution's moments with %i points", (points) => {
    const { nodes, weights } = gaussHermite(points);
    let moment = 1;
    for (let power = 0; power < Math.min(2 * points, 12); power += 2) {
      const sum = nodes.reduce((total, node, at) => total + weights[at] * node ** power, 0);
      expect(sum / moment).toBeCloseTo(1, 12);
      moment *= power + 1;
    }
  });
});
