import type { Estimate } from "./interval";
import { normalQuantile } from "./normal";
import { insist } from "./requirement";
import { insistOnStrata, type Stratum } from "./stratum";

/**
 * The odds of standing in a over those in b, common to all blocks.
 *
 * For the working only: it takes plants as independent.
 *
 * @param strata two counts a block; a block with all or none standing in both tells nothing
 * @param level confidence level
 * @returns odds ratio, standard error of its log, limits; null where no block sets them apart or one never loses
 *   against the other (0 or infinite odds)
 *
 * Convention: the log's variance by Robins, Breslow and Greenland.
 * Source: mantel-haenszel-1959; variance robins-1986.
 * Checked: tests/reference/mantel-haenszel (rabbits, admissions; R mantelhaen.test).
 * Example: penicillin in rabbits → 7.0 (1.03 to 47.7).
 */
export function mantelHaenszelOddsRatio(
  strata: readonly Stratum[],
  level: number,
): (Estimate & { seLog: number }) | null {
  insistOnStrata("mantelHaenszelOddsRatio", strata);
  insist(level > 0 && level < 1, "mantelHaenszelOddsRatio", "0 < level < 1", level);
  let [r, s, pr, mixed, qs] = [0, 0, 0, 0, 0];
  for (const { a, b } of strata) {
    const total = a.setOut + b.setOut;
    if (total === 0) continue;
    const [lostA, lostB] = [a.setOut - a.standing, b.setOut - b.standing];
    const [forA, forB] = [(a.standing * lostB) / total, (lostA * b.standing) / total];
    const [agree, differ] = [(a.standing + lostB) / total, (lostA + b.standing) / total];
    r += forA;
    s += forB;
    pr += agree * forA;
    mixed += agree * forB + differ * forA;
    qs += differ * forB;
  }
  if (r === 0 || s === 0) return null;
  const seLog = Math.sqrt(pr / (2 * r * r) + mixed / (2 * r * s) + qs / (2 * s * s));
  const z = -normalQuantile((1 - level) / 2);
  const estimate = r / s;
  return { estimate, seLog, low: estimate * Math.exp(-z * seLog), high: estimate * Math.exp(z * seLog) };
}
