import { describe, expect, it } from "vitest";
import type { Term } from "@/lib/statistics/design-matrix";
import { factor, type Variable } from "@/lib/statistics/factor";
import { firthContrast, firthLogistic } from "@/lib/statistics/firth-logistic";
import { agreement } from "../agreement";
import reference from "./case.json";
import { plainFirth } from "./plain-twin";

const { agree, agreeAll } = agreement("Firth", reference.tolerance);
const [cancer, lizards] = reference.cases;

const covariates = (["NV", "PI", "EH"] as const).map((name) => ({ name, values: cancer.data[name] ?? [] }));
const factors = [
  factor("height", lizards.data.height ?? [], ["<5ft", ">=5ft"]),
  factor("diameter", lizards.data.diameter ?? [], ["<=2in", ">2in"]),
  factor("light", lizards.data.light ?? [], ["sunny", "shady"]),
  factor("time", lizards.data.time ?? [], ["early", "midday", "late"]),
];
const grahami = lizards.data.grahami ?? [];
const both = grahami.map((count, row) => count + (lizards.data.opalinus ?? [])[row]);

const models: [string, { hits: number[]; setOut: number[] }, Variable[], typeof cancer.expected][] = [
  [
    cancer.name,
    { hits: cancer.data.HG ?? [], setOut: (cancer.data.HG ?? []).map(() => 1) },
    covariates,
    cancer.expected,
  ],
  [lizards.name, { hits: grahami, setOut: both }, factors, lizards.expected],
];

describe("penalised estimates and profile limits against R", () => {
  it.each(models)("%s", (_name, rows, variables, expected) => {
    const terms: Term[] = variables.map(({ name }) => [name]);
    const model = firthLogistic(rows, variables, terms);
    for (const [place] of expected.terms.entries()) {
      const weights = new Float64Array(model.design.columns.length);
      weights[place] = 1;
      // Our covariates are centred, R's are not: at covariates 0 the intercept is a sum of coefficients.
      if (place === 0)
        for (const [k, variable] of variables.entries())
          if ("values" in variable)
            weights[k + 1] = -variable.values.reduce((sum, value) => sum + value, 0) / variable.values.length;
      const one = firthContrast(model, weights, 0.95);
      agree(one.estimate, expected.estimate[place]);
      agree(one.se, expected.se[place]);
      agree(one.low, expected.profile_lower[place]);
      agree(one.high, expected.profile_upper[place]);
      agree(one.chiSquare, expected.plr_chisq[place]);
      agree(one.p, expected.plr_p[place]);
    }
    agree(model.penalisedLogLikelihood, expected.penalisedLogLikelihood);
    agreeAll(model.fitted, expected.fitted);
  });

  it("as printed by Heinze and Schemper (values from memory): 3.77, 2.929, −0.0348, −2.604", () => {
    const printed = cancer.expected.estimate.map((value) => value.toPrecision(3));
    expect(printed).toEqual(["3.77", "2.93", "-0.0348", "-2.60"]);
  });
});

it("by hand: one share is (hits + ½)/(setOut + 1), and two alike in size keep it each", () => {
  const one = firthLogistic({ hits: [8], setOut: [8] }, [factor("only", ["a"])], []);
  expect(one.fitted[0]).toBeCloseTo(8.5 / 9, 12);
  const two = firthLogistic({ hits: [8, 3], setOut: [8, 8] }, [factor("variety", ["a", "b"])], [["variety"]]);
  expect(two.fitted[0]).toBeCloseTo(8.5 / 9, 12);
  expect(two.fitted[1]).toBeCloseTo(3.5 / 9, 12);
});

it("is the plain twin's where varieties lost all or none", () => {
  const rows = { hits: [8, 8, 0, 0, 5, 3], setOut: [8, 8, 8, 8, 8, 6] };
  const variety = factor("variety", ["a", "a", "b", "b", "c", "c"]);
  const block = factor("block", ["1", "2", "1", "2", "1", "2"]);
  const model = firthLogistic(rows, [block, variety], [["block"], ["variety"]]);
  const twin = plainFirth(
    rows.hits.map((_, row) => model.design.columns.map((column) => column[row])),
    rows.hits,
    rows.setOut,
  );
  expect(model.penalisedLogLikelihood).toBeCloseTo(twin.height, 11);
  // The twin stops when a step of 2e-9 no longer shows in the height: about the root of its rounding.
  for (const [k, coefficient] of twin.coefficients.entries())
    expect(Math.abs(model.coefficients[k] - coefficient)).toBeLessThan(2e-6);
  for (const weights of [Float64Array.of(0, 0, 1, 0), Float64Array.of(0, 0, 1, -1)]) {
    const limits = firthContrast(model, weights, 0.95);
    expect(limits.reason).toBeNull();
    expect(limits.low as number).toBeLessThan(limits.estimate as number);
    expect(limits.high as number).toBeGreaterThan(limits.estimate as number);
  }
});

it("the twin against R, on the lizards", () => {
  const model = firthLogistic({ hits: grahami, setOut: both }, factors, [["height"], ["time"]]);
  const twin = plainFirth(
    grahami.map((_, row) => model.design.columns.map((column) => column[row])),
    grahami,
    both,
  );
  expect(twin.height).toBeCloseTo(model.penalisedLogLikelihood, 9);
});

it("answers where all stand in every plot, and says what plots do not tell", () => {
  const variety = factor("variety", ["a", "b", "c"]);
  const model = firthLogistic({ hits: [8, 8, 0], setOut: [8, 8, 0] }, [variety], [["variety"]]);
  const alike = firthContrast(model, Float64Array.of(0, 1, 0), 0.95);
  expect(alike.estimate).toBeCloseTo(0, 12);
  expect(alike.p).toBeGreaterThan(0.999);
  expect(firthContrast(model, Float64Array.of(0, 0, 1), 0.95)).toMatchObject({
    low: null,
    reason: "not estimable",
  });
  const empty = firthLogistic({ hits: [0], setOut: [0] }, [factor("variety", ["a"])], []);
  expect(firthContrast(empty, Float64Array.of(1), 0.95).reason).toBe("not estimable");
});
