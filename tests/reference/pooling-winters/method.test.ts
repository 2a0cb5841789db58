import { describe, expect, it } from "vitest";
import { pooledContrast } from "@/lib/statistics/pooled-contrast";
import { pooledSurvival } from "@/lib/statistics/pooled-survival";
import { randomEffects } from "@/lib/statistics/random-effects";
import { agreement } from "../agreement";
import reference from "./case.json";

const { agree } = agreement("random effects", reference.tolerance);
const contrasts = agreement("pooled contrast", reference.contrasts.tolerance);
const survivals = agreement("pooled survival", reference.survivals.tolerance);
const [{ data, expected }] = reference.cases;

describe("restricted maximum likelihood with Hartung–Knapp limits against R", () => {
  it.each(["logRR", "logOR", "RD"] as const)("BCG vaccine trials, %s", (scale) => {
    const winters = data[scale].estimate.map((estimate, trial) => ({
      estimate,
      se: Math.sqrt(data[scale].variance[trial]),
    }));
    const ours = randomEffects(winters, 0.95);
    const theirs = expected[scale];
    agree(ours.spreadVariance, theirs.tau2);
    agree(ours.mean, theirs.mean);
    agree(ours.se, theirs.se);
    agree(ours.limits?.low ?? null, theirs.low);
    agree(ours.limits?.high ?? null, theirs.high);
    agree(ours.heterogeneity?.q ?? null, theirs.q);
    agree(ours.heterogeneity?.p ?? null, theirs.qP);
    agree(100 * (ours.iSquared ?? 0), theirs.i2);
    // Where R's multiplier is above 1 its prediction is on the same standard error as ours.
    expect(theirs.multiplier).toBeGreaterThan(1);
    agree(ours.prediction?.low ?? null, theirs.prediction[0]);
    agree(ours.prediction?.high ?? null, theirs.prediction[1]);
  });

  it("as printed for the BCG trials (values from memory): −0.7145, τ² 0.3132, I² 92.22 %", () => {
    const { mean, tau2, i2 } = expected.logRR;
    expect([mean.toFixed(4), tau2.toFixed(4), i2.toFixed(2)]).toEqual(["-0.7145", "0.3132", "92.22"]);
  });
});

describe("pooled contrasts against R", () => {
  it.each(Object.entries(reference.contrasts.cases))(
    "%s",
    (_name, { estimate, se, priorScale, floor, ...answer }) => {
      const winters = estimate.map((value, winter) => ({ estimate: value, se: se[winter] }));
      const { mean, another, spread, atLeastFloor } = pooledContrast(winters, priorScale, floor, 0.95);
      const { agree: close } = contrasts;
      close(mean.estimate, answer.expected.mean);
      close(mean.low, answer.expected.low);
      close(mean.high, answer.expected.high);
      close(another.low, answer.expected.anotherLow);
      close(another.high, answer.expected.anotherHigh);
      close(spread, answer.expected.spread);
      close(atLeastFloor?.mean ?? null, answer.expected.meanAbove);
      close(atLeastFloor?.another ?? null, answer.expected.anotherAbove);
    },
  );
});

describe("pooled survival against R", () => {
  it.each(Object.entries(reference.survivals.cases))("%s", (_name, { floors, priorScale, ...one }) => {
    const winters = one.standing.map((standing, winter) => ({
      standing,
      effectivePlants: one.effectivePlants[winter],
    }));
    const at = (floor: number) => pooledSurvival(winters, priorScale, floor, 0.95);
    for (const [place, floor] of floors.entries()) {
      const { atLeastFloor, spread } = at(floor);
      survivals.agree(spread, one.expected.spread);
      survivals.agree(atLeastFloor?.typical ?? null, one.expected.typicalAbove[place]);
      survivals.agree(atLeastFloor?.another ?? null, one.expected.anotherAbove[place]);
    }
    // The limits are where the same probabilities come to 2.5, 50 and 97.5 %.
    const { typical, another } = at(0.5);
    for (const [limits, of] of [
      [typical, "typical"],
      [another, "another"],
    ] as const)
      for (const [limit, probability] of [
        [limits.low, 0.975],
        [limits.estimate, 0.5],
        [limits.high, 0.025],
      ])
        survivals.agree(at(limit).atLeastFloor?.[of] ?? null, probability);
  });
});
