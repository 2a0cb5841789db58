import { describe, expect, it } from "vitest";
import { analysisOfDeviance } from "@/lib/statistics/analysis-of-deviance";
import { contrast } from "@/lib/statistics/contrast";
import { countModel, negativeBinomialModel } from "@/lib/statistics/count-model";
import type { Term } from "@/lib/statistics/design-matrix";
import { type Factor, factor } from "@/lib/statistics/factor";
import { agreement } from "../agreement";
import reference from "./case.json";

const { agree, agreeAll } = agreement("counts", reference.tolerance);
const [sprays, absences, warp] = reference.cases;
type Answer = NonNullable<typeof sprays.expected.all>;

const levels: Record<string, string[]> = { tension: ["L", "M", "H"] };
const factorsOf = (data: object, names: string[]): Factor[] =>
  names.map((name) => {
    const values = (data as Record<string, string[]>)[name];
    return factor(name, values, levels[name] ?? [...new Set(values)].sort());
  });

const models: [string, number[], Factor[], Term[], Answer][] = [
  [sprays.name, sprays.data.y, factorsOf(sprays.data, ["spray"]), [["spray"]], sprays.expected.all as Answer],
  [
    absences.name,
    absences.data.y,
    factorsOf(absences.data, ["Eth", "Sex", "Age", "Lrn"]),
    [["Eth"], ["Sex"], ["Age"], ["Lrn"]],
    absences.expected.all as Answer,
  ],
  [
    `${warp.name}, additive`,
    warp.data.y,
    factorsOf(warp.data, ["wool", "tension"]),
    [["wool"], ["tension"]],
    warp.expected.additive as Answer,
  ],
  [
    `${warp.name}, with interaction`,
    warp.data.y,
    factorsOf(warp.data, ["wool", "tension"]),
    [["wool"], ["tension"], ["wool", "tension"]],
    warp.expected.interaction as Answer,
  ],
];

describe("counts against R", () => {
  it.each(models)("%s", (_name, counts, factors, terms, expected) => {
    const rows = { counts, exposure: counts.map(() => 1) };
    const quasi = countModel(rows, factors, terms, "quasi-poisson");
    const plain = countModel(rows, factors, terms, "poisson");
    agree(quasi.dispersion, expected.dispersion);
    agree(plain.deviance, expected.poisson.deviance);
    agree(plain.nullDeviance, expected.poisson.nullDeviance);
    agree(plain.pearson, expected.poisson.pearson);
    for (const [place, estimate] of expected.estimate.entries()) {
      const weights = new Float64Array(quasi.design.columns.length);
      weights[place] = 1;
      const one = contrast(quasi, weights, 0.95);
      agree(one.estimate, estimate);
      agree(one.se, expected.quasi.se[place]);
      agree(one.p, expected.quasi.p[place]);
      agree(Math.exp(one.low as number), expected.rateRatios.quasi_lower[place]);
      agree(Math.exp(one.high as number), expected.rateRatios.quasi_upper[place]);
      const known = contrast(plain, weights, 0.95);
      agree(known.se, expected.poisson.se[place]);
      agree(Math.exp(known.low as number), expected.rateRatios.pois_lower[place]);
    }
    const tests = analysisOfDeviance((some) => countModel(rows, factors, some, "quasi-poisson"), terms);
    for (const [index, line] of tests.entries()) agreeAll([line.f, line.p], expected.quasi.f[index]);
    const chi = analysisOfDeviance((some) => countModel(rows, factors, some, "poisson"), terms);
    for (const [index, line] of chi.entries())
      agreeAll([line.df, line.deviance, line.p], expected.poisson.chiSquare[index]);

    const nb = negativeBinomialModel(rows, factors, terms);
    agree(nb.theta, expected.negativeBinomial.theta);
    // MASS takes θ's information one step before its last; largest gap now seen 3.0e-6.
    expect(Math.abs((nb.thetaSe as number) / expected.negativeBinomial.thetaSe - 1)).toBeLessThan(1e-5);
    agree(nb.logLikelihood, expected.negativeBinomial.logLikelihood);
    agree(nb.deviance, expected.negativeBinomial.deviance);
    for (const [place, estimate] of expected.negativeBinomial.estimate.entries()) {
      agree(nb.coefficients[place], estimate);
      const se = Math.sqrt(nb.covariance?.get(place, place) ?? 0);
      // MASS takes its weights from the step before; largest gap now seen 7.9e-8.
      expect(Math.abs(se / expected.negativeBinomial.se[place] - 1)).toBeLessThan(2e-7);
    }
  });
});

it("Beall's webworms as printed: negative binomial log likelihood, θ, dispersion of units and of plots", () => {
  const { data, expected } = reference.webworms;
  const repeat = (values: string[]) => values.flatMap((value, plot) => data.counts[plot].map(() => value));
  const terms = [["block"], ["spray"], ["lead"], ["spray", "lead"]];
  const units = [
    factor("block", repeat(data.block)),
    factor("spray", repeat(data.spray)),
    factor("lead", repeat(data.lead)),
  ];
  const counts = data.counts.flat();
  const rows = { counts, exposure: counts.map(() => 1) };
  const nb = negativeBinomialModel(rows, units, terms);
  expect(nb.logLikelihood.toFixed(3)).toBe(expected.logLikelihoodNegativeBinomial.toFixed(3));
  expect(nb.theta?.toFixed(4)).toBe(expected.theta.toFixed(4));
  expect(countModel(rows, units, terms, "quasi-poisson").dispersion?.toFixed(4)).toBe(
    expected.unitDispersion.toFixed(4),
  );
  const plots = [factor("block", data.block), factor("spray", data.spray), factor("lead", data.lead)];
  const totals = data.counts.map((plot) => plot.reduce((sum, count) => sum + count, 0));
  const whole = countModel({ counts: totals, exposure: totals.map(() => 25) }, plots, terms, "quasi-poisson");
  expect(whole.dispersion?.toFixed(4)).toBe(expected.plotDispersion.toFixed(4));
  expect(whole.residualDf).toBe(expected.plotResidualDf);
});
