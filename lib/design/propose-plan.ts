import { type FitRequest, fitBed } from "./fit-bed";
import { type WhatItTells, whatItTells } from "./what-it-tells";

export interface PlanProposal {
  blocks: number;
  plantsPerPlot: number;
  /** In the whole trial. */
  plants: number;
  tells: WhatItTells;
}

/** What a household sets out and still counts; a person who wants more may ask for it. */
const mostBlocks = 6;
const mostPlants = 12;
const fewestPlants = 3;
/** Half-widths as near as this, in shares, are taken as equal: the smaller plan is less work. */
const nearEnough = 0.02;

function halfWidth({ tells }: PlanProposal): number {
  return (tells.high - tells.low) / 2;
}

/**
 * Plans that fit the beds, the one to be proposed first: of those whose survival interval is within two points of the
 * narrowest, the one with the fewest plants. The rest follow from narrow to wide, for each number of blocks the most
 * plants a plot that fit.
 *
 * Two to six blocks of 3 to 12 plants a plot; fewer plants, or a single block, only where nothing else fits. Empty when
 * not even single plants fit.
 */
export function proposePlan(request: Omit<FitRequest, "blocks" | "plantsPerPlot">): PlanProposal[] {
  const atMost = (blocks: number, fewest: number): PlanProposal[] => {
    for (let plantsPerPlot = mostPlants; plantsPerPlot >= fewest; plantsPerPlot -= 1) {
      const size = { ...request, blocks, plantsPerPlot };
      if (!fitBed(size).ok) continue;
      const plants = request.entries * blocks * plantsPerPlot;
      return [{ blocks, plantsPerPlot, plants, tells: whatItTells(size) }];
    }
    return [];
  };
  const blockCounts = Array.from({ length: mostBlocks - 1 }, (_, index) => index + 2);
  let plans = blockCounts.flatMap((blocks) => atMost(blocks, fewestPlants));
  if (plans.length === 0) plans = blockCounts.flatMap((blocks) => atMost(blocks, 1));
  if (plans.length === 0) plans = atMost(1, 1);
  plans.sort((a, b) => halfWidth(a) - halfWidth(b));
  const [proposed] = plans
    .filter((plan) => halfWidth(plan) <= halfWidth(plans[0]) + nearEnough)
    .sort((a, b) => a.plants - b.plants);
  return proposed ? [proposed, ...plans.filter((plan) => plan !== proposed)] : [];
}
