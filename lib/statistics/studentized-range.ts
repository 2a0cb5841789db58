import { integral } from "./gauss-legendre";
import { normalCdf, normalDensity } from "./normal";
import { insist } from "./requirement";
import { type StudentisedTail, studentisedTail } from "./studentised-tail";

/** Laid down once for each number of means that is asked for. */
const tails = new Map<number, StudentisedTail>();

/**
 * P(Q > q) for the studentized range of `means` independent normal means on `df` degrees of freedom: the p-value of
 * Tukey's test.
 *
 * @param q range over its standard error; 0 or less gives 1
 * @param means ≥ 2, a whole number
 * @param df > 0, fractional or infinite
 *
 * Conventions: integrated as an upper tail, so that small p keep their digits; over the largest of the means
 * (n∫φ(z)[Φ(z)ⁿ⁻¹ − (Φ(z) − Φ(z − w))ⁿ⁻¹]dz), then over s.
 * Source: hsu-1996, appendix D.
 * Checked: tests/reference/studentized-range (double integration in R, R ptukey where it is right), to 1e-10. R 4.2's
 * own ptukey is off by 4e-7 at small df and fails below 2.
 * Example: q 3.5064 of 3 means on 27 df → 0.05.
 */
export function studentizedRangeUpper(q: number, means: number, df: number): number {
  return tailOf(means).upper(q, df);
}

/** The q with P(Q ≤ q) = p, as `studentizedRangeUpper` counts it. */
export function studentizedRangeQuantile(p: number, means: number, df: number): number {
  return tailOf(means).quantile(1 - p, df);
}

function tailOf(means: number): StudentisedTail {
  insist(Number.isInteger(means) && means >= 2, "studentizedRange", "2 or more means", means);
  let tail = tails.get(means);
  if (tail === undefined) {
    tail = studentisedTail((w) => rangeUpper(w, means));
    tails.set(means, tail);
  }
  return tail;
}

/** P(range of n standard normals > w). */
function rangeUpper(w: number, means: number): number {
  const rest = means - 1;
  const density = (z: number) => {
    const below = normalCdf(z);
    if (below === 0) return 0;
    const missed = -Math.expm1(rest * Math.log1p(-normalCdf(z - w) / below));
    return normalDensity(z) * below ** rest * missed;
  };
  return means * integral(density, Math.max(-9, w / 2 - 9), w / 2 + 9, 15);
}
