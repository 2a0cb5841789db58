import type { Clumping } from "./clumping";
import { floorProbability } from "./floor-probability";
import { insist } from "./requirement";

/**
 * How many more plots of a variety would settle whether it meets the floor, if it goes on standing as it has.
 *
 * For *try once more*: what one more trial should be. It takes the share seen, and the clumping believed in, as what
 * will be seen again in a winter like this one; it promises nothing about another winter.
 *
 * @param belief the distribution of the intra-class correlation, from `effectivePlants`
 * @param count plants so far: standing, set out (> 0), clusterSize Σ n²/Σ n
 * @param rule floor; `meetAt` and `missAt`, the probabilities that settle it either way
 * @param plantsPerPlot plants in each further plot
 * @param mostPlots where to give up
 * @returns the fewest further plots (0 if settled now), their plants, and which way it settles; null when not even
 *   `mostPlots` would, as for a variety that stands at the floor
 *
 * Source: our own; the probability is `floorProbability` with further plots added at the share seen.
 * Checked: tests/unit/statistics/deciding.test.ts (against `floorProbability` plot by plot).
 */
export function plotsToSettle(
  belief: Clumping,
  count: { standing: number; setOut: number; clusterSize: number },
  rule: { floor: number; meetAt: number; missAt: number },
  plantsPerPlot: number,
  mostPlots: number,
): { plots: number; plants: number; meets: boolean } | null {
  insist(
    plantsPerPlot >= 1 && Number.isFinite(plantsPerPlot),
    "plotsToSettle",
    "plantsPerPlot ≥ 1",
    plantsPerPlot,
  );
  insist(rule.missAt < rule.meetAt, "plotsToSettle", "missAt < meetAt", `${rule.missAt} and ${rule.meetAt}`);
  const share = count.standing / count.setOut;
  for (let plots = 0; plots <= mostPlots; plots += 1) {
    const plants = plots * plantsPerPlot;
    const setOut = count.setOut + plants;
    const clusterSize = (count.clusterSize * count.setOut + plots * plantsPerPlot ** 2) / setOut;
    const probability = floorProbability(
      belief,
      { standing: share * setOut, setOut, clusterSize },
      rule.floor,
    );
    if (probability >= rule.meetAt || probability <= rule.missAt)
      return { plots, plants, meets: probability >= rule.meetAt };
  }
  return null;
}
