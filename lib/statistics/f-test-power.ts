import { betaUpper } from "./beta";
import { fQuantile } from "./f-distribution";
import { logGamma } from "./log-gamma";
import { insist } from "./requirement";

/**
 * How often an F test at this level would refuse *all alike*, when they are not: the non-central F distribution beyond
 * the critical value.
 *
 * @param nonCentrality Σ (plots × squared deviation of a variety's true mean) over the residual variance
 * @param df1 varieties − 1
 * @param df2 residual df
 * @param level one less the chance of a false alarm
 *
 * Source: johnson-kotz-1995, chapter 30: a Poisson mixture of central distributions, summed both ways from its middle.
 * Checked: tests/reference/power (R power.anova.test).
 * Example: four groups of five, between variance ⅓ of within → 0.354.
 */
export function fTestPower(nonCentrality: number, df1: number, df2: number, level: number): number {
  insist(
    nonCentrality >= 0 && Number.isFinite(nonCentrality),
    "fTestPower",
    "nonCentrality ≥ 0",
    nonCentrality,
  );
  insist(df1 > 0 && df2 > 0, "fTestPower", "df > 0", `${df1} and ${df2}`);
  insist(level > 0 && level < 1, "fTestPower", "0 < level < 1", level);
  const f = fQuantile(level, df1, df2);
  const x = (df1 * f) / (df1 * f + df2);
  const half = nonCentrality / 2;
  if (half === 0) return 1 - level;
  const term = (j: number) => {
    const chance = Math.exp(j * Math.log(half) - half - logGamma(j + 1));
    return { chance, power: chance * betaUpper(x, df1 / 2 + j, df2 / 2) };
  };
  const middle = Math.floor(half);
  let sum = 0;
  for (let j = middle; j >= 0; j -= 1) sum += term(j).power;
  for (let j = middle + 1; ; j += 1) {
    const { chance, power } = term(j);
    sum += power;
    if (chance < 1e-18) return Math.min(1, sum);
  }
}
