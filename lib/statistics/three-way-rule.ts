import { insist } from "./requirement";

export type Choice = "grow again" | "try once more" | "drop";

/**
 * What a rule set before the trial proposes for one variety, from the probability that each floor is met.
 *
 * *Grow again* when **each** floor is met with probability ≥ sureness, so that it is wrong at most about 1 − sureness of
 * the time. *Drop* when some floor is met with probability ≤ (1 − sureness)/2, or ≤ 1 − sureness when the rule has one
 * floor. Otherwise *try once more*. A person decides; this only proposes.
 *
 * @param probabilities one for each floor of the rule; null where it could not be reckoned, which rules out *grow again*
 * @param sureness 0.5 to 1
 * @param capped true where the evidence may not say *grow again* whatever its strength (a tender check stood)
 * @returns the proposal, null for a rule without floors
 *
 * Source: our own; error rates at the floor in CALIBRATION.md.
 * Checked: tests/unit/statistics/deciding.test.ts.
 * Example: threeWayRule([0.85, 0.91], 0.8, false) → "grow again"; threeWayRule([0.85, 0.09], 0.8, false) → "drop".
 */
export function threeWayRule(
  probabilities: readonly (number | null)[],
  sureness: number,
  capped: boolean,
): Choice | null {
  insist(sureness >= 0.5 && sureness < 1, "threeWayRule", "½ ≤ sureness < 1", sureness);
  for (const probability of probabilities)
    insist(
      probability === null || (probability >= 0 && probability <= 1),
      "threeWayRule",
      "probabilities from 0 to 1",
      String(probability),
    );
  if (probabilities.length === 0) return null;
  const dropAt = probabilities.length === 1 ? 1 - sureness : (1 - sureness) / 2;
  if (probabilities.some((probability) => probability !== null && probability <= dropAt)) return "drop";
  if (!capped && probabilities.every((probability) => probability !== null && probability >= sureness))
    return "grow again";
  return "try once more";
}
