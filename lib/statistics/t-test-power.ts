import { integral } from "./gauss-legendre";
import { normalCdf } from "./normal";
import { insist } from "./requirement";
import { rootBetween } from "./root-between";
import { studentTQuantile } from "./student-t";

/**
 * How often a two-sided t test at this level would refuse no difference, when there is one: the non-central t
 * distribution beyond both critical values.
 *
 * @param nonCentrality true difference over its true standard error
 * @param df > 0, or Infinity
 * @param level of the matching interval, e.g. 0.95
 *
 * Conventions: both tails count, as they do in the test (R's power.t.test leaves the far one out unless `strict`).
 * Source: johnson-kotz-1995, chapter 31, as the mean of a normal tail over the distribution of the estimated spread.
 * Checked: tests/reference/power (R power.t.test(strict = TRUE)).
 * Example: tTestPower(1/√(2/20), 38, 0.95) → 0.869.
 */
export function tTestPower(nonCentrality: number, df: number, level: number): number {
  insist(Number.isFinite(nonCentrality), "tTestPower", "a finite nonCentrality", nonCentrality);
  insist(df > 0, "tTestPower", "df > 0", df);
  insist(level > 0 && level < 1, "tTestPower", "0 < level < 1", level);
  const t = studentTQuantile((1 + level) / 2, df);
  const beyond = (spread: number) =>
    normalCdf(nonCentrality - t * spread) + normalCdf(-nonCentrality - t * spread);
  if (df === Number.POSITIVE_INFINITY) return beyond(1);
  // The log of the estimated over the true spread has a density with its peak at 0; below e⁻⁴⁵ of that it is left out.
  const height = (log: number) => df * (log - Math.expm1(2 * log) / 2);
  const low = rootBetween((log) => height(log) + 45, -60 / df - 10, 0);
  const high = rootBetween((log) => height(log) + 45, 0, 5 + 60 / df);
  const panels = Math.ceil((high - low) * (1 + Math.min(4, Math.sqrt(df) / 2))) + 8;
  const over = (value: (log: number) => number) =>
    integral((log) => Math.exp(height(log)) * value(log), low, high, panels);
  return over((log) => beyond(Math.exp(log))) / over(() => 1);
}

/**
 * The non-centrality that a t test finds so often: how many standard errors a difference must be to be seen, say, four
 * times in five.
 */
export function tTestNonCentrality(power: number, df: number, level: number): number {
  insist(power > 1 - level && power < 1, "tTestNonCentrality", "1 − level < power < 1", power);
  let high = 4;
  while (tTestPower(high, df, level) < power) high *= 2;
  return rootBetween((at) => tTestPower(at, df, level) - power, 0, high);
}
