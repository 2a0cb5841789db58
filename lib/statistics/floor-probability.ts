import { betaUpper } from "./beta";
import type { Clumping } from "./clumping";
import { insist } from "./requirement";

/**
 * How likely it is, on this trial's evidence, that the share standing is at least a floor: this bed, this winter.
 *
 * For the rule set before the trial. For another winter pool winters instead.
 *
 * @param belief the distribution of the intra-class correlation, from `effectivePlants`
 * @param count plants of one variety: standing, set out (> 0), and clusterSize Σ n²/Σ n
 * @param floor the share that must stand, 0 to 1
 * @returns Σ weight × P(Beta(½ + x/D, ½ + (n − x)/D) ≥ floor), D = 1 + (clusterSize − 1)ρ the design effect
 *
 * Edges: floor 0 gives 1 and floor 1 gives 0, whatever stands.
 * Source: our own: Jeffreys' prior on the effective counts (brown-cai-dasgupta-2001) averaged over the clumping; the
 * evidence is CALIBRATION.md, which shows how often it errs at the floor.
 * Checked: tests/reference/effective-plants (R twin).
 * Example: 20 of 24 in plots of 8, clumping as in `effectivePlants`: P(share ≥ 0.6) = 0.976.
 */
export function floorProbability(
  belief: Clumping,
  count: { standing: number; setOut: number; clusterSize: number },
  floor: number,
): number {
  const { standing, setOut, clusterSize } = count;
  insist(
    standing >= 0 && standing <= setOut && setOut > 0 && Number.isFinite(setOut),
    "floorProbability",
    "0 ≤ standing ≤ setOut and setOut > 0",
    `${standing} of ${setOut}`,
  );
  insist(
    clusterSize >= 1 - 1e-12 && floor >= 0 && floor <= 1,
    "floorProbability",
    "clusterSize ≥ 1 and 0 ≤ floor ≤ 1",
    `clusterSize ${clusterSize}, floor ${floor}`,
  );
  if (floor === 0) return 1;
  let probability = 0;
  belief.icc.forEach((icc, point) => {
    const designEffect = 1 + Math.max(0, clusterSize - 1) * icc;
    const upper = betaUpper(floor, 0.5 + standing / designEffect, 0.5 + (setOut - standing) / designEffect);
    probability += belief.weight[point] * upper;
  });
  return Math.min(1, probability);
}
