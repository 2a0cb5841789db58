import { describe, expect, it } from "vitest";
import { coxRatio, coxRatios } from "@/lib/statistics/cox-ratios";
import { type LogRank, logRank } from "@/lib/statistics/log-rank";
import { agreement } from "../agreement";
import reference from "./case.json";

const { agree, agreeAll } = agreement("log-rank and Cox", reference.tolerance);

type Named = Record<string, number>;

function agreeTest(ours: LogRank, theirs: { observed: object; expected: object; chisq: number; p: number }) {
  agreeAll(ours.observed, Object.values(theirs.observed as Named));
  agreeAll(ours.expected, Object.values(theirs.expected as Named));
  agree(ours.chiSquare, theirs.chisq);
  agree(ours.p, theirs.p);
}

describe("two groups against R", () => {
  it.each(reference.cases.map((one) => [one.name, one] as const))("%s", (_name, { data, expected }) => {
    const groups = data.group.map((name) => expected.levels.indexOf(name));
    const lifetimes = { times: data.time, causes: data.status, groups, blocks: null };
    const plain = logRank(lifetimes, 2, "log-rank");
    agreeTest(plain, expected.logRank);
    plain.covariance.forEach((row, group) => {
      agreeAll(row, expected.logRank.V[group]);
    });
    agree(plain.chiSquare, expected.survdiff.chisq);
    agreeTest(logRank(lifetimes, 2, "peto"), expected.peto);

    const fit = coxRatios(lifetimes, 2);
    const ratio = coxRatio(fit, 1, 0, 0.95);
    agree(ratio?.estimate ?? null, expected.cox.estimate);
    agree(ratio?.se ?? null, expected.cox.se);
    agree(ratio?.p ?? null, expected.cox.p);
    agree(Math.exp(ratio?.low as number), expected.cox.low);
    agree(Math.exp(ratio?.high as number), expected.cox.high);
    agreeAll([fit.logLikelihood.alike, fit.logLikelihood.fitted], expected.cox.logLikelihood);
    agree(fit.likelihoodRatio?.chiSquare ?? null, expected.cox.ratio.test);
    agree(fit.likelihoodRatio?.p ?? null, expected.cox.ratio.pvalue);

    if (!data.pair || !expected.stratified) return;
    const pairs = [...new Set(data.pair)];
    const blocked = { ...lifetimes, blocks: data.pair.map((pair) => pairs.indexOf(pair)) };
    const within = logRank(blocked, 2, "log-rank");
    agreeTest(within, expected.stratified.logRank);
    agree(within.chiSquare, expected.stratified.survdiff.chisq);
    agreeTest(logRank(blocked, 2, "peto"), expected.stratified.peto);
  });

  it("as printed for Gehan's data: chi-square 16.79, log hazard ratio 1.572 (values from memory)", () => {
    const { expected } = reference.cases[1];
    expect(expected.logRank.chisq.toFixed(2)).toBe("16.79");
    expect(expected.cox.estimate.toFixed(3)).toBe("1.572");
  });
});

it("four varieties in three blocks against R", () => {
  const { data, expected } = reference.blocks;
  const groups = data.group.map((name) => "ABCD".indexOf(name));
  const lifetimes = { times: data.time, causes: data.status, groups, blocks: null };
  const blocked = { ...lifetimes, blocks: data.block.map((block) => block - 1) };
  agree(logRank(lifetimes, 4, "log-rank").chiSquare, expected.plain.chisq);
  const within = logRank(blocked, 4, "log-rank");
  agree(within.chiSquare, expected.stratified.chisq);
  expect(within.df).toBe(3);
  agreeAll(within.observed, expected.stratified.observed);
  agreeAll(within.expected, expected.stratified.expected);
  const fit = coxRatios(blocked, 4);
  expected.cox.coef.forEach((coefficient, index) => {
    const ratio = coxRatio(fit, index + 1, 0, 0.95);
    agree(ratio?.estimate ?? null, coefficient);
    agree(ratio?.se ?? null, Math.sqrt(expected.cox.vcov[index][index]));
  });
  const between = coxRatio(fit, 3, 1, 0.95);
  const { vcov } = expected.cox;
  agree(between?.se ?? null, Math.sqrt(vcov[2][2] + vcov[0][0] - 2 * vcov[2][0]));
  agreeAll([fit.logLikelihood.alike, fit.logLikelihood.fitted], expected.cox.loglik);
});
