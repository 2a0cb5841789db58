import { hypergeometricPmf } from "./hypergeometric";
import type { Count } from "./miettinen-nurminen-difference";
import { insist } from "./requirement";
import { rootBetween } from "./root-between";

export interface FisherExact {
  /** Two-sided: all tables as unlikely as this one or more so. */
  p: number;
  /** One-sided: as many or more of `a` standing; as many or fewer. */
  pGreater: number;
  pLess: number;
  /** Conditional maximum-likelihood odds ratio; 0 or Infinity at an end of what the margins allow, null when they allow one table. */
  oddsRatio: number | null;
  low: number;
  high: number;
}

/**
 * Fisher's exact test of two counts, with the odds ratio and limits given both margins.
 *
 * For the working only: it takes plants as independent.
 *
 * @param a, b whole counts, 0 ≤ standing ≤ setOut
 * @param level confidence level of the limits, half of the error beyond each
 *
 * Conventions: tables whose probability is within 1e-7 (relative) of this one's count as equally unlikely, as in R.
 * Odds ratio and limits are solved to the last digits on the log scale (R's fisher.test stops at about four).
 * Source: fisher-1935, section 21; limits fisher-1962.
 * Checked: tests/reference/two-proportions (the tea-taster, the twin convictions, Newcombe's a–h).
 * Example: 3 of 4 against 1 of 4 → p 0.486, odds ratio 6.41 (0.212 to 626).
 */
export function fisherExact(a: Count, b: Count, level: number): FisherExact {
  for (const { standing, setOut } of [a, b])
    insist(
      Number.isInteger(standing) && Number.isInteger(setOut) && standing >= 0 && standing <= setOut,
      "fisherExact",
      "whole counts with 0 ≤ standing ≤ setOut",
      `${standing} of ${setOut}`,
    );
  insist(level > 0 && level < 1, "fisherExact", "0 < level < 1", level);
  const stood = a.standing + b.standing;
  const first = Math.max(0, stood - b.setOut);
  const last = Math.min(a.setOut, stood);
  const counts = Array.from({ length: last - first + 1 }, (_, index) => first + index);
  const chance = counts.map((count) => hypergeometricPmf(count, a.setOut + b.setOut, a.setOut, stood));
  const seen = chance[a.standing - first];
  const sum = (keep: (count: number, index: number) => boolean) =>
    Math.min(
      1,
      chance.reduce((total, value, index) => total + (keep(counts[index], index) ? value : 0), 0),
    );
  const tests = {
    p: sum((_, index) => chance[index] <= seen * (1 + 1e-7)),
    pGreater: sum((count) => count >= a.standing),
    pLess: sum((count) => count <= a.standing),
  };
  if (counts.length === 1) return { ...tests, oddsRatio: null, low: 0, high: Number.POSITIVE_INFINITY };

  const logChance = chance.map(Math.log);
  /** The mean of a function of the count when the log odds ratio is as given. */
  const mean = (logOdds: number, of: (count: number) => number) => {
    const logWeight = counts.map((count, index) => logChance[index] + logOdds * count);
    const top = Math.max(...logWeight);
    let total = 0;
    let weighed = 0;
    logWeight.forEach((value, index) => {
      const weight = Math.exp(value - top);
      total += weight;
      weighed += weight * of(counts[index]);
    });
    return weighed / total;
  };
  const solve = (of: (count: number) => number, target: number) =>
    Math.exp(rootBetween((logOdds) => mean(logOdds, of) - target, -60, 60));
  const tail = (1 - level) / 2;
  const atFirst = a.standing === first;
  const atLast = a.standing === last;
  let oddsRatio = atFirst ? 0 : Number.POSITIVE_INFINITY;
  if (!atFirst && !atLast) oddsRatio = solve((count) => count, a.standing);
  return {
    ...tests,
    oddsRatio,
    low: atFirst ? 0 : solve((count) => (count >= a.standing ? 1 : 0), tail),
    high: atLast ? Number.POSITIVE_INFINITY : solve((count) => (count <= a.standing ? 1 : 0), tail),
  };
}
