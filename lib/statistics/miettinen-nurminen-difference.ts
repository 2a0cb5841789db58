import type { Estimate } from "./interval";
import { normalQuantile } from "./normal";
import { insist } from "./requirement";
import { rootBetween } from "./root-between";

/** A bare count out of a number of plants taken as independent. */
export interface Count {
  standing: number;
  setOut: number;
}

/**
 * Limits for the difference of two shares, a − b: all differences that a score test would not refuse.
 *
 * For the working only: it takes plants as independent.
 *
 * @param a, b 0 ≤ standing ≤ setOut, setOut > 0
 * @param level confidence level
 *
 * Convention: variance at the shares most likely under each difference, times N/(N − 1).
 * Edges: a difference of 1 (all against none) ends at 1, of −1 starts at −1.
 * Source: miettinen-nurminen-1985. Departure: the shares under a difference are found by halving on the score, not by
 * the paper's cubic, which loses digits near 0 and 1.
 * Checked: tests/reference/two-proportions (Newcombe's Table II a–h; R).
 * Example: 9/10 − 3/10 → 0.6 (0.170 to 0.841).
 */
export function miettinenNurminenDifference(a: Count, b: Count, level: number): Estimate {
  for (const { standing, setOut } of [a, b])
    insist(
      standing >= 0 && standing <= setOut && setOut > 0 && Number.isFinite(setOut),
      "miettinenNurminenDifference",
      "0 ≤ standing ≤ setOut and setOut > 0",
      `${standing} of ${setOut}`,
    );
  insist(level > 0 && level < 1, "miettinenNurminenDifference", "0 < level < 1", level);
  const z = -normalQuantile((1 - level) / 2);
  const estimate = a.standing / a.setOut - b.standing / b.setOut;
  const total = a.setOut + b.setOut;
  const score = (difference: number) => {
    const gap = estimate - difference;
    if (Math.abs(gap) < 1e-15) return 0;
    const [shareA, shareB] = mostLikelyShares(a, b, difference);
    const variance =
      (total / (total - 1)) * ((shareA * (1 - shareA)) / a.setOut + (shareB * (1 - shareB)) / b.setOut);
    return variance <= 0 ? Math.sign(gap) * 1e10 : gap / Math.sqrt(variance);
  };
  const edge = 1 - 1e-13;
  return {
    estimate,
    low: estimate <= -edge ? -1 : rootBetween((difference) => score(difference) - z, -edge, estimate),
    high: estimate >= edge ? 1 : rootBetween((difference) => score(difference) + z, estimate, edge),
  };
}

/** The pair of shares a given difference apart that makes the counts most likely. */
function mostLikelyShares(a: Count, b: Count, difference: number): [number, number] {
  const lowest = Math.max(0, -difference);
  const highest = Math.min(1, 1 - difference);
  const slope = (shareB: number) => {
    const shareA = shareB + difference;
    const lostA = a.setOut - a.standing;
    const lostB = b.setOut - b.standing;
    return (
      (a.standing > 0 ? a.standing / shareA : 0) -
      (lostA > 0 ? lostA / (1 - shareA) : 0) +
      (b.standing > 0 ? b.standing / shareB : 0) -
      (lostB > 0 ? lostB / (1 - shareB) : 0)
    );
  };
  const step = (highest - lowest) * 1e-15;
  const [atLowest, atHighest] = [slope(lowest + step), slope(highest - step)];
  let shareB: number;
  if (Number.isNaN(atLowest) || Number.isNaN(atHighest)) shareB = (lowest + highest) / 2;
  else if (atLowest <= 0) shareB = lowest;
  else if (atHighest >= 0) shareB = highest;
  else shareB = rootBetween(slope, lowest + step, highest - step);
  return [Math.min(1, Math.max(0, shareB + difference)), shareB];
}
