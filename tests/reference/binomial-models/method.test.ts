import { describe, expect, it } from "vitest";
import { analysisOfDeviance } from "@/lib/statistics/analysis-of-deviance";
import { binomialModel } from "@/lib/statistics/binomial-model";
import { contrast } from "@/lib/statistics/contrast";
import { designRow, type Term } from "@/lib/statistics/design-matrix";
import { type Factor, factor } from "@/lib/statistics/factor";
import { marginalMeans } from "@/lib/statistics/marginal-means";
import { williamsWeights } from "@/lib/statistics/williams-weights";
import { agreement } from "../agreement";
import reference from "./case.json";

const { agree, agreeAll } = agreement("binomial models", reference.tolerance);

type Answer = (typeof reference.cases)[0]["expected"]["main"] & object;

const [orobanche, herds] = reference.cases;
const seed = factor("seed", orobanche.data.seed ?? [], ["O75", "O73"]);
const extract = factor("extract", orobanche.data.extract ?? [], ["bean", "cucumber"]);
const period = factor("period", (herds.data.period ?? []).map(String));

const models: [string, typeof orobanche.data, Factor[], Term[], Answer][] = [
  [
    "seed + extract",
    orobanche.data,
    [seed, extract],
    [["seed"], ["extract"]],
    orobanche.expected.main as Answer,
  ],
  [
    "seed × extract",
    orobanche.data,
    [seed, extract],
    [["seed"], ["extract"], ["seed", "extract"]],
    orobanche.expected.interaction as Answer,
  ],
  ["period", herds.data as typeof orobanche.data, [period], [["period"]], herds.expected.period as Answer],
];

describe("quasi-binomial regression against R", () => {
  it.each(models)("%s", (_name, data, factors, terms, expected) => {
    const rows = { hits: data.y, setOut: data.n };
    const model = binomialModel(rows, factors, terms, "pearson");
    for (const [place, estimate] of expected.estimate.entries()) {
      const weights = new Float64Array(model.design.columns.length);
      weights[place] = 1;
      const one = contrast(model, weights, 0.95);
      agree(one.estimate, estimate);
      agree(one.se, expected.se[place]);
      agree(one.p, expected.p[place]);
    }
    agree(model.deviance, expected.deviance);
    agree(model.nullDeviance, expected.nullDeviance);
    agree(model.pearson, expected.pearson);
    agree(model.dispersion, expected.dispersion);
    expect(model.residualDf).toBe(expected.residualDf);
    agreeAll(model.fitted, expected.fitted);
    const lines = analysisOfDeviance((some) => binomialModel(rows, factors, some, "pearson"), terms);
    for (const [index, line] of lines.entries()) {
      expect(line.df).toBe(expected.sequential[index].Df);
      agree(line.deviance, expected.sequential[index].Deviance);
      agree(line.f, expected.sequential[index].F);
      agree(line.p, expected.sequential[index].Pr_F_);
    }
  });

  it("marginal means and differences on the logit scale, with t limits", () => {
    const [, data, factors, terms, expected] = models[0];
    const model = binomialModel({ hits: data.y, setOut: data.n }, factors, terms, "pearson");
    const means = marginalMeans(model, "extract", 0.95);
    for (const [index, mean] of means.entries()) {
      agree(mean.estimate, expected.meansByT.emmean[index]);
      agree(mean.se, expected.meansByT.SE[index]);
      agree(mean.low, expected.meansByT.lower_CL[index]);
      agree(mean.high, expected.meansByT.upper_CL[index]);
    }
    const cucumber = designRow(model.design, { extract: "cucumber" });
    const pair = designRow(model.design, { extract: "bean" }).map((value, at) => value - cucumber[at]);
    const difference = contrast(model, pair, 0.95);
    agree(difference.estimate, expected.pairsByT.estimate[0]);
    agree(difference.se, expected.pairsByT.SE[0]);
    agree(difference.p, expected.pairsByT.p_value[0]);
  });
});

it("deviances of Mead's germination trial as published", () => {
  const { data, expected } = reference.published;
  const factors = [factor("temp", data.temp), factor("conc", data.conc)];
  const rows = { hits: data.germ, setOut: data.seeds };
  const modelOf = (terms: Term[]) => binomialModel(rows, factors, terms, "pearson");
  const published: [Term[], number[]][] = [
    [[], expected.null],
    [[["temp"]], expected.temp],
    [[["conc"]], expected.conc],
    [[["temp"], ["conc"]], expected.additive],
    [[["temp"], ["conc"], ["temp", "conc"]], expected.interaction],
  ];
  for (const [terms, [deviance, df]] of published) {
    expect(Math.abs(modelOf(terms).deviance - deviance)).toBeLessThanOrEqual(expected.tolerance);
    expect(modelOf(terms).residualDf).toBe(df);
  }
  expect(modelOf(published[4][0]).dispersion?.toFixed(4)).toBe(expected.dispersion.toFixed(4));
});

it("Williams's correlation and coefficients as published for Crowder's seeds", () => {
  const { correlation, coefficients } = reference.williams;
  // Williams takes O73 on bean extract as the baseline.
  const first = factor("seed", orobanche.data.seed ?? [], ["O73", "O75"]);
  const rows = { hits: orobanche.data.y, setOut: orobanche.data.n };
  const terms = [["seed"], ["extract"], ["seed", "extract"]];
  const fit = williamsWeights(rows, [first, extract], terms);
  expect(fit.correlation.toFixed(6)).toBe(correlation.toFixed(6));
  for (const [place, coefficient] of coefficients.entries())
    expect(Math.abs(fit.model.coefficients[place] - coefficient)).toBeLessThan(5.1e-5);
  expect(fit.model.pearson).toBeCloseTo(fit.model.residualDf, 9);
});
