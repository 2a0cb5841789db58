import type { KaplanMeier } from "./kaplan-meier";
import { countUpTo } from "./lifetimes";
import { insist } from "./requirement";

/** Mean time standing within a window; null, with a reason, where plants were not watched long enough to say. */
export interface RestrictedMean {
  mean: number | null;
  se: number | null;
  reason: "no plants" | "not watched that long" | null;
}

/**
 * Mean time that a plant stands within a window: the area under the curve. It compares curves that cross, and needs no
 * median to be reached.
 *
 * @param until end of the window, > 0, the same for all varieties compared
 *
 * Conventions: variance Σ A² lost/(atRisk (atRisk − lost)), A the area still to come; without the factor m/(m − 1).
 * It takes plants as independent.
 * Edges: plants watched for less than the window, and not all lost: null (R holds the curve flat and goes on). None
 * lost: the whole window, standard error 0.
 * Source: klein-moeschberger-2003, section 4.5.
 * Checked: tests/reference/standing-curve (R summary(survfit, rmean =)).
 */
export function restrictedMean(curve: KaplanMeier, until: number): RestrictedMean {
  insist(until > 0 && Number.isFinite(until), "restrictedMean", "a finite until > 0", until);
  const { times, share, atRisk, lost } = curve;
  if (times.length === 0) return { mean: null, se: null, reason: "no plants" };
  const last = times.length - 1;
  if (times[last] < until && share[last] > 0)
    return { mean: null, se: null, reason: "not watched that long" };
  let area = 0;
  let variance = 0;
  let right = until;
  for (let at = countUpTo(times, until) - 1; at >= 0; at -= 1) {
    area += (right - times[at]) * share[at];
    right = times[at];
    const left = atRisk[at] - lost[at];
    if (left > 0) variance += (area * area * lost[at]) / (atRisk[at] * left);
  }
  return { mean: area + right, se: Math.sqrt(variance), reason: null };
}
