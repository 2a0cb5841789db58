import { contrastCorrelation } from "./contrast";
import { dunnettTail } from "./dunnett-tail";
import { isFactor } from "./factor";
import type { FittedModel } from "./linear-model";
import { differenceRow, type MarginalDifference, marginalDifferences } from "./marginal-means";
import type { RandomStream } from "./random-stream";

/**
 * Every level of a factor less one check, with limits and p made for all of them at once.
 *
 * For varieties against the check named beforehand; for every pair `tukeyKramer`.
 *
 * @param check the level compared with
 * @param level confidence level of the whole family
 * @param random seeded by the trial; drawn from only where missing plots leave correlations without product form
 * @param within levels at which other factors are held, as in `marginalMeans`
 *
 * Conventions: two-sided; correlations are the model's own, so any numbers of plots are allowed for; a mixed model's
 * contrasts each keep their own df.
 * Edges: differences that are not estimable keep their reason, and the others share the level among themselves; a
 * single other variety gives the plain t test.
 * Source: dunnett-1955.
 * Checked: tests/reference/dunnett (double integration in R; multcomp).
 * Example: PlantGrowth against ctrl, trt2 0.494 → −0.156 to 1.144, p 0.153.
 */
export function dunnett(
  model: FittedModel,
  factorName: string,
  check: string,
  level: number,
  random: RandomStream,
  within: Readonly<Record<string, string>> = {},
): MarginalDifference[] {
  const variable = model.design.variables.find(({ name }) => name === factorName);
  const others = variable && isFactor(variable) ? variable.levels.filter((one) => one !== check) : [];
  const pairs = others.map((one) => [one, check] as const);
  const differences = marginalDifferences(model, factorName, pairs, level, within);
  const told = differences.filter(({ se }) => se !== null);
  const rows = told.map((one) => differenceRow(model, factorName, one.level, check, within));
  const correlation = contrastCorrelation(model, rows);
  if (correlation === null || told.length === 0) return differences;
  const tail = dunnettTail(correlation, random);
  const multipliers = new Map<number, number>();
  return differences.map((difference) => {
    const { estimate, se, df, t } = difference;
    if (estimate === null || se === null || df === null || t === null) return difference;
    const multiplier = multipliers.get(df) ?? tail.quantile(1 - level, df);
    multipliers.set(df, multiplier);
    return {
      ...difference,
      low: estimate - multiplier * se,
      high: estimate + multiplier * se,
      p: tail.upper(Math.abs(t), df),
    };
  });
}
