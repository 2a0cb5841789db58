import { clumpedCount } from "./clumped-count";
import { effectivePlants } from "./effective-plants";
import { newcombeDifference } from "./newcombe-difference";
import { normalCdf, normalQuantile } from "./normal";
import type { PlotCount } from "./plot-count";
import type { RandomStream } from "./random-stream";
import { insist } from "./requirement";
import { rootBetween } from "./root-between";
import { tTestPower } from "./t-test-power";

/** A trial of survival as planned: every variety in as many plots, of as many plants. */
export interface SurvivalPlan {
  varieties: number;
  plotsEach: number;
  plantsPerPlot: number;
  /** Blocks as many as plots of a variety, or none. */
  layout: "crd" | "rcbd";
  /** Intra-class correlation: from past trials, or 0.1; the caller says which. */
  icc: number;
  /** Of the interval that is to leave out no difference. */
  level: number;
}

export interface SurvivalPower {
  /** Normal approximation with the true variances, both tails. */
  normal: number;
  /** The same on t with the residual df of the plan; null without any. */
  t: number | null;
}

/**
 * How often a difference in survival would be seen, in closed form: shares of plots that scatter as clumped binomials.
 *
 * For planning at a glance; `simulatedSurvivalPower` asks the analysis itself, and is to be believed where they differ.
 *
 * @param a, b true shares of the two varieties
 *
 * Conventions: design effect 1 + (plants − 1) icc; unpooled variances; residual df of varieties (and blocks).
 * Source: donner-klar-2000, chapter 5.
 * Checked: tests/reference/power (R, by the formulas and beside simulation).
 * Example: 0.1 and 0.4 in 4 plots each of 12, icc 0.05 → 0.83 (normal), 0.68 (t).
 */
export function survivalPower(plan: SurvivalPlan, a: number, b: number): SurvivalPower {
  insistOnPlan("survivalPower", plan);
  insist(a > 0 && a < 1 && b > 0 && b < 1, "survivalPower", "shares between 0 and 1", `${a} and ${b}`);
  const errors = (a - b) / standardError(plan, a, b);
  const z = -normalQuantile((1 - plan.level) / 2);
  const df = residualDf(plan);
  return {
    normal: normalCdf(errors - z) + normalCdf(-errors - z),
    t: df === 0 ? null : tTestPower(errors, df, plan.level),
  };
}

/**
 * The share of another variety, farther from the check's, that would be told from it so often: the smallest difference
 * to be seen four times in five, say.
 *
 * @param check true share of the check
 * @param power how often it is to be seen, e.g. 0.8
 * @param side whether the other stands better or worse
 * @returns null where even all, or none, standing would not be seen so often
 *
 * Conventions: normal approximation of `survivalPower`, near tail only.
 * Source, Checked: as `survivalPower`.
 */
export function detectableShare(
  plan: SurvivalPlan,
  check: number,
  power: number,
  side: "better" | "worse",
): number | null {
  insistOnPlan("detectableShare", plan);
  insist(check > 0 && check < 1, "detectableShare", "a share between 0 and 1", check);
  insist(power > 0 && power < 1, "detectableShare", "0 < power < 1", power);
  const wanted = normalQuantile(power) - normalQuantile((1 - plan.level) / 2);
  const short = (share: number) => Math.abs(share - check) - wanted * standardError(plan, check, share);
  const farthest = side === "better" ? 1 : 0;
  if (short(farthest) < 0) return null;
  return rootBetween(short, check, farthest);
}

export interface SimulatedPower {
  /** Share of simulated trials whose interval left out no difference. */
  power: number;
  /** Its standard error from so many trials. */
  error: number;
}

/**
 * How often a difference in survival would be seen, by simulating trials and putting each through the analysis that the
 * results will use: effective plants and Newcombe's difference.
 *
 * @param check true share of the check and of every other variety but one
 * @param variety true share of that one
 * @param trials how many to simulate
 * @param stream seeded by the trial, so that the same plan gives the same answer
 *
 * Source: our own; plants of a plot by `clumpedCount`.
 * Checked: tests/unit/statistics/power.test.ts (no difference is seen rarely; more blocks see more).
 */
export function simulatedSurvivalPower(
  plan: SurvivalPlan,
  check: number,
  variety: number,
  trials: number,
  stream: RandomStream,
): SimulatedPower {
  insistOnPlan("simulatedSurvivalPower", plan);
  insist(Number.isInteger(trials) && trials >= 1, "simulatedSurvivalPower", "at least one trial", trials);
  const { varieties, plotsEach, plantsPerPlot: setOut, layout, icc, level } = plan;
  let seen = 0;
  for (let trial = 0; trial < trials; trial += 1) {
    const plots: PlotCount[] = [];
    for (let name = 0; name < varieties; name += 1)
      for (let plot = 0; plot < plotsEach; plot += 1) {
        const share = name === 1 ? variety : check;
        const standing = clumpedCount(stream, setOut, share, icc);
        plots.push({ variety: String(name), block: String(plot), row: null, column: null, setOut, standing });
      }
    const [first, second] = effectivePlants(plots, layout, level).varieties.map((one) => ({
      share: one.share ?? 0,
      plants: one.effectivePlants ?? 0,
    }));
    const { low, high } = newcombeDifference(second, first, level);
    if (low > 0 || high < 0) seen += 1;
  }
  const power = seen / trials;
  return { power, error: Math.sqrt((power * (1 - power)) / trials) };
}

function insistOnPlan(statistic: string, plan: SurvivalPlan): void {
  const { varieties, plotsEach, plantsPerPlot, icc, level } = plan;
  insist(Number.isInteger(varieties) && varieties >= 2, statistic, "at least two varieties", varieties);
  insist(Number.isInteger(plotsEach) && plotsEach >= 1, statistic, "at least one plot each", plotsEach);
  insist(
    Number.isInteger(plantsPerPlot) && plantsPerPlot >= 1,
    statistic,
    "at least one plant a plot",
    plantsPerPlot,
  );
  insist(icc >= 0 && icc < 1, statistic, "0 ≤ icc < 1", icc);
  insist(level > 0 && level < 1, statistic, "0 < level < 1", level);
}

function residualDf({ varieties, plotsEach, layout }: SurvivalPlan): number {
  return (plotsEach - 1) * (layout === "rcbd" ? varieties - 1 : varieties);
}

function standardError({ plotsEach, plantsPerPlot, icc }: SurvivalPlan, a: number, b: number): number {
  const designEffect = 1 + (plantsPerPlot - 1) * icc;
  return Math.sqrt(((a * (1 - a) + b * (1 - b)) * designEffect) / (plotsEach * plantsPerPlot));
}
