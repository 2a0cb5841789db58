import { expect, it } from "vitest";
import { binomialMixedModel } from "@/lib/statistics/binomial-mixed-model";
import { contrast } from "@/lib/statistics/contrast";
import { factor } from "@/lib/statistics/factor";
import { agreement } from "../agreement";
import reference from "./case.json";

const { agree } = agreement("binomial mixed model", reference.tolerance);
const [{ data, expected }] = reference.cases;
const period = factor("period", data.period.map(String));
const herd = factor(
  "herd",
  data.herd,
  Array.from({ length: 15 }, (_, at) => `H${at + 1}`),
);

it("pleuropneumonia in 15 herds against R", () => {
  const model = binomialMixedModel({ hits: data.y, setOut: data.n }, [period], [["period"]], herd);
  for (const answer of [expected.points25, expected.points100]) {
    for (const [k, estimate] of answer.estimate.entries()) {
      agree(model.coefficients[k], estimate);
      agree(Math.sqrt(model.covariance?.get(k, k) ?? 0), answer.se[k]);
    }
    agree(model.clusterSd, answer.clusterSd);
    agree(model.logLikelihood, answer.logLikelihood);
  }
  // lme4's modes are of a fit that stops earlier: 1e-5 is what they share.
  for (const [at, mode] of expected.intercepts.entries())
    expect(Math.abs(model.intercepts[at] - mode)).toBeLessThan(1e-5);
});

it("Crowder's seeds with an intercept a plate, as printed (values from the collection's documentation)", () => {
  const { data: seeds, expected: printed } = reference.seeds;
  const model = binomialMixedModel(
    { hits: seeds.germ, setOut: seeds.n },
    [factor("gen", seeds.gen, ["O73", "O75"]), factor("extract", seeds.extract, ["bean", "cucumber"])],
    [["gen"], ["extract"], ["gen", "extract"]],
    factor("plate", seeds.plate),
  );
  for (const [k, estimate] of printed.estimate.entries())
    expect(Math.abs(model.coefficients[k] - estimate)).toBeLessThan(printed.tolerance);
  expect(Math.abs((model.clusterSd ?? 0) - printed.clusterSd)).toBeLessThan(printed.tolerance);
});

it("is plain logistic regression, and says so, where rows scatter no more than binomially", () => {
  const rows = { hits: [4, 4, 6, 6], setOut: [8, 8, 8, 8] };
  const variety = factor("variety", ["a", "a", "b", "b"]);
  const model = binomialMixedModel(rows, [variety], [["variety"]], factor("plot", ["1", "2", "3", "4"]));
  expect(model).toMatchObject({ clusterSd: 0, reason: "no more scatter than binomial" });
  expect(model.coefficients[1]).toBeCloseTo(Math.log(3), 10);
});

it("sets a variety that lost none apart, and leaves the others as they are without it", () => {
  const rows = { hits: [1, 7, 3, 8, 0, 6, 8, 8, 8], setOut: [8, 8, 8, 8, 8, 8, 8, 8, 8] };
  const variety = factor("variety", ["a", "a", "a", "b", "b", "b", "c", "c", "c"]);
  const plots = factor("plot", ["1", "2", "3", "4", "5", "6", "7", "8", "9"]);
  const model = binomialMixedModel(rows, [variety], [["variety"]], plots);
  const alone = binomialMixedModel(
    { hits: rows.hits.slice(0, 6), setOut: rows.setOut.slice(0, 6) },
    [factor("variety", ["a", "a", "a", "b", "b", "b"])],
    [["variety"]],
    factor("plot", ["1", "2", "3", "4", "5", "6"]),
  );
  expect(model.endless).toEqual(["variety c"]);
  expect(model.clusterSd).toBeCloseTo(alone.clusterSd as number, 9);
  const weights = Float64Array.of(0, 1, 0);
  expect(contrast(model, weights, 0.95).estimate).toBeCloseTo(alone.coefficients[1], 9);
  expect(contrast(model, Float64Array.of(0, 0, 1), 0.95).reason).toBe("not estimable");
});

it("says that clusters which are all or nothing have no end", () => {
  const rows = { hits: [8, 0, 8, 0], setOut: [8, 8, 8, 8] };
  const variety = factor("variety", ["a", "a", "b", "b"]);
  const model = binomialMixedModel(rows, [variety], [["variety"]], factor("plot", ["1", "2", "3", "4"]));
  expect(model).toMatchObject({
    clusterSd: null,
    logLikelihood: null,
    reason: "clusters are all or nothing",
  });
  expect(contrast(model, Float64Array.of(0, 1), 0.95)).toMatchObject({
    estimate: null,
    reason: "not estimable",
  });
});
