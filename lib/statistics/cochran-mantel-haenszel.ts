import { chiSquareUpper } from "./chi-square";
import { insistOnStrata, type Stratum } from "./stratum";

/**
 * Whether standing and variety go together within blocks: the Cochran–Mantel–Haenszel chi-square on 1 df.
 *
 * For the working only: it takes plants as independent, and so cries wolf where plants of a plot share their fate.
 *
 * @param strata two counts a block; blocks of one plant, or with all or none standing, drop out
 * @param continuity true subtracts ½ (or the whole gap where smaller), as R does unless told otherwise
 * @returns chi-square and p; null where no block tells anything
 *
 * Source: mantel-haenszel-1959, in Cochran's form.
 * Checked: tests/reference/mantel-haenszel (rabbits, admissions; R mantelhaen.test).
 * Example: penicillin in rabbits → 5.66, p 0.017; with continuity 3.93, p 0.047.
 */
export function cochranMantelHaenszel(
  strata: readonly Stratum[],
  continuity: boolean,
): { chiSquare: number; p: number } | null {
  insistOnStrata("cochranMantelHaenszel", strata);
  let gap = 0;
  let variance = 0;
  for (const { a, b } of strata) {
    const total = a.setOut + b.setOut;
    if (total <= 1) continue;
    const stood = a.standing + b.standing;
    gap += a.standing - (a.setOut * stood) / total;
    variance += (a.setOut * b.setOut * stood * (total - stood)) / (total * total * (total - 1));
  }
  if (variance === 0) return null;
  const distance = Math.abs(gap) - (continuity ? Math.min(0.5, Math.abs(gap)) : 0);
  const chiSquare = distance ** 2 / variance;
  return { chiSquare, p: chiSquareUpper(chiSquare, 1) };
}
