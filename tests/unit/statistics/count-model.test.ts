import { describe, expect, it } from "vitest";
import { contrast } from "@/lib/statistics/contrast";
import { countModel, negativeBinomialModel } from "@/lib/statistics/count-model";
import { factor } from "@/lib/statistics/factor";

const variety = factor("variety", ["a", "a", "b", "b", "c", "c"]);
const exposure = [1, 1, 1, 1, 1, 1];

describe("countModel", () => {
  it("gives the ratio of the varieties' rates, by hand", () => {
    const rows = { counts: [4, 6, 12, 18, 3, 7], exposure: [1, 1, 2, 1, 1, 1] };
    const model = countModel(rows, [variety], [["variety"]], "poisson");
    const ratio = contrast(model, Float64Array.of(0, 1, 0), 0.95);
    expect(ratio.estimate).toBeCloseTo(Math.log(30 / 3 / (10 / 2)), 12);
    expect(ratio.se).toBeCloseTo(Math.sqrt(1 / 30 + 1 / 10), 12);
  });

  it("sets a variety without any count aside", () => {
    const rows = { counts: [4, 6, 0, 0, 3, 7], exposure };
    const model = countModel(rows, [variety], [["variety"]], "quasi-poisson");
    expect(model.endless).toEqual(["variety b"]);
    expect(contrast(model, Float64Array.of(0, 1, 0), 0.95).reason).toBe("not estimable");
    expect(contrast(model, Float64Array.of(0, 0, 1), 0.95).estimate).toBeCloseTo(0, 12);
  });

  it("has nothing to say of counts that are all 0, and no NaN", () => {
    const model = countModel(
      { counts: [0, 0, 0, 0, 0, 0], exposure },
      [variety],
      [["variety"]],
      "quasi-poisson",
    );
    expect(contrast(model, Float64Array.of(0, 1, 0), 0.95)).toMatchObject({
      estimate: null,
      reason: "not estimable",
    });
    expect([model.deviance, model.nullDeviance, model.pearson]).toEqual([0, 0, 0]);
  });

  it("says that counts without scatter leave nothing over", () => {
    const model = countModel(
      { counts: [4, 4, 8, 8, 2, 2], exposure },
      [variety],
      [["variety"]],
      "quasi-poisson",
    );
    expect(contrast(model, Float64Array.of(0, 1, 0), 0.95)).toMatchObject({
      se: null,
      reason: "no variation",
    });
  });

  it("refuses a count below 0", () => {
    expect(() => countModel({ counts: [-1], exposure: [1] }, [factor("v", ["a"])], [], "poisson")).toThrow(
      "countModel requires finite counts ≥ 0; got -1",
    );
  });
});

describe("negativeBinomialModel", () => {
  it("is Poisson's model, and says so, where counts scatter no more", () => {
    const rows = { counts: [4, 5, 9, 8, 2, 2], exposure };
    const model = negativeBinomialModel(rows, [variety], [["variety"]]);
    expect(model).toMatchObject({ theta: null, thetaSe: null, reason: "no more scatter than Poisson" });
    expect(model.coefficients[1]).toBeCloseTo(Math.log(17 / 9), 12);
  });

  it("has wider limits than Poisson where they do", () => {
    const rows = { counts: [0, 30, 2, 50, 1, 25], exposure };
    const model = negativeBinomialModel(rows, [variety], [["variety"]]);
    const poisson = countModel(rows, [variety], [["variety"]], "poisson");
    expect(model.theta).toBeGreaterThan(0);
    expect(model.covariance?.get(1, 1)).toBeGreaterThan(poisson.covariance?.get(1, 1) as number);
  });

  it("refuses counts that are not whole", () => {
    expect(() => negativeBinomialModel({ counts: [1.5], exposure: [1] }, [factor("v", ["a"])], [])).toThrow(
      "negativeBinomialModel requires whole counts; got 1.5",
    );
  });
});
