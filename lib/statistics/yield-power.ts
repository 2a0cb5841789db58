import { normalVariate } from "./clumped-count";
import { contrast } from "./contrast";
import { factor } from "./factor";
import { linearModel } from "./linear-model";
import type { RandomStream } from "./random-stream";
import { insist } from "./requirement";
import type { SimulatedPower } from "./survival-power";
import { tTestNonCentrality, tTestPower } from "./t-test-power";

/** A trial of yield as planned: every variety in as many plots. */
export interface YieldPlan {
  varieties: number;
  plotsEach: number;
  /** Blocks as many as plots of a variety, or none. */
  layout: "crd" | "rcbd";
  /** Residual standard deviation of log yield, which is the coefficient of variation of plots: past trials', or 0.25. */
  cv: number;
  /** Of the interval that is to leave out *as much as the check*. */
  level: number;
}

/**
 * How often a ratio of yields to the check would be seen, in closed form: t on the plan's residual df, on log yield as
 * the analysis takes it.
 *
 * @param ratio true yield of the variety over the check's, > 0
 * @returns null where the plan leaves no residual df
 *
 * Source: as `tTestPower`.
 * Checked: tests/reference/power (R power.t.test); tests/unit/statistics/power.test.ts beside simulation.
 * Example: 4 varieties in 4 blocks, cv 0.25 → a ratio of 0.6 is seen with 0.73.
 */
export function yieldPower(plan: YieldPlan, ratio: number): number | null {
  insistOnPlan("yieldPower", plan);
  insist(ratio > 0 && Number.isFinite(ratio), "yieldPower", "ratio > 0", ratio);
  const df = residualDf(plan);
  return df === 0 ? null : tTestPower(Math.log(ratio) / standardError(plan), df, plan.level);
}

/** The ratio below 1 that would be told from 1 so often (its inverse above 1); null without residual df. */
export function detectableRatio(plan: YieldPlan, power: number): number | null {
  insistOnPlan("detectableRatio", plan);
  const df = residualDf(plan);
  if (df === 0) return null;
  return Math.exp(-tTestNonCentrality(power, df, plan.level) * standardError(plan));
}

/**
 * How often a ratio of yields would be seen, by simulating trials and putting each through the analysis: variety (and
 * block) on log yield, t limits for the difference to the check.
 *
 * @param ratio true yield of one variety over that of every other
 * @param trials how many to simulate
 * @param stream seeded by the trial
 *
 * Conventions: log yields are normal; blocks differ by as much as plots do, which the analysis takes out.
 * Checked: tests/unit/statistics/power.test.ts (within simulation error of the closed form).
 */
export function simulatedYieldPower(
  plan: YieldPlan,
  ratio: number,
  trials: number,
  stream: RandomStream,
): SimulatedPower | null {
  insistOnPlan("simulatedYieldPower", plan);
  insist(ratio > 0 && Number.isFinite(ratio), "simulatedYieldPower", "ratio > 0", ratio);
  insist(Number.isInteger(trials) && trials >= 1, "simulatedYieldPower", "at least one trial", trials);
  if (residualDf(plan) === 0) return null;
  const { varieties, plotsEach, layout, cv, level } = plan;
  const places = Array.from({ length: varieties * plotsEach }, (_, plot) => ({
    variety: Math.floor(plot / plotsEach),
    block: plot % plotsEach,
  }));
  const variety = factor(
    "variety",
    places.map((place) => String(place.variety)),
  );
  const block = factor(
    "block",
    places.map((place) => String(place.block)),
  );
  const blocked = layout === "rcbd";
  const weights = new Float64Array((blocked ? plotsEach : 1) + varieties - 1);
  weights[blocked ? plotsEach : 1] = 1;
  let seen = 0;
  for (let trial = 0; trial < trials; trial += 1) {
    const blocks = Array.from({ length: plotsEach }, () => (blocked ? cv * normalVariate(stream) : 0));
    const logs = places.map(
      (place) =>
        (place.variety === 1 ? Math.log(ratio) : 0) + blocks[place.block] + cv * normalVariate(stream),
    );
    const model = blocked
      ? linearModel(logs, [block, variety], [["block"], ["variety"]])
      : linearModel(logs, [variety], [["variety"]]);
    const { low, high } = contrast(model, weights, level);
    if ((low ?? 0) > 0 || (high ?? 0) < 0) seen += 1;
  }
  const power = seen / trials;
  return { power, error: Math.sqrt((power * (1 - power)) / trials) };
}

function insistOnPlan(statistic: string, { varieties, plotsEach, cv, level }: YieldPlan): void {
  insist(Number.isInteger(varieties) && varieties >= 2, statistic, "at least two varieties", varieties);
  insist(Number.isInteger(plotsEach) && plotsEach >= 1, statistic, "at least one plot each", plotsEach);
  insist(cv > 0 && Number.isFinite(cv), statistic, "cv > 0", cv);
  insist(level > 0 && level < 1, statistic, "0 < level < 1", level);
}

function residualDf({ varieties, plotsEach, layout }: YieldPlan): number {
  return (plotsEach - 1) * (layout === "rcbd" ? varieties - 1 : varieties);
}

function standardError({ cv, plotsEach }: YieldPlan): number {
  return cv * Math.sqrt(2 / plotsEach);
}
