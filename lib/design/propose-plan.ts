import type { MainFactor } from "@/lib/words/trial";
import { designMisfits } from "./design-misfits";
import { type FitRequest, fitBed, plotsOf } from "./fit-bed";
import { type Scatter, type WhatItTells, whatItTells } from "./what-it-tells";

/** What is to be planned, without its numbers of blocks and plants. */
export interface PlanRequest extends Omit<FitRequest, "blocks" | "plantsPerPlot"> {
  /** The most plants of one variety that there will be; as many as are wanted where nothing is said. */
  plantsToHand?: number;
  /** Of the garden's own trials of the crop. */
  scatter?: Scatter;
  /** What the levels are, where there are any. */
  factor?: MainFactor;
}

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

/** Plots of one variety in a block's worth of the design: what its plants are divided over. */
function plotsPerVariety({ design, levels = 1 }: PlanRequest, blocks: number): number {
  if (design === "augmented") return 1;
  return design === "split-plot" ? blocks * levels : blocks;
}

/** How many blocks a design may have. */
function blockCounts({ design, entries }: PlanRequest): number[] {
  if (design === "latin") return [entries];
  return Array.from({ length: mostBlocks - 1 }, (_, index) => index + 2);
}

/**
 * Plans that fit the beds, the one to be proposed first: of those whose survival interval is within two points of the
 * narrowest, the one with the fewest plants. The rest follow from narrow to wide, for each number of blocks the most
 * plants a plot that fit and are to hand.
 *
 * Two to six blocks of 3 to 12 plants a plot; fewer plants, or a single block, only where nothing else fits. Empty when
 * not even single plants fit, or the design cannot be had of so many varieties.
 */
export function proposePlan({ plantsToHand, ...request }: PlanRequest): PlanProposal[] {
  const atMost = (blocks: number, fewest: number): PlanProposal[] => {
    const toHand = Math.floor((plantsToHand ?? Number.POSITIVE_INFINITY) / plotsPerVariety(request, blocks));
    for (let plantsPerPlot = Math.min(mostPlants, toHand); plantsPerPlot >= fewest; plantsPerPlot -= 1) {
      const size = { ...request, blocks, plantsPerPlot };
      if (designMisfits(size).length > 0) return [];
      if (!fitBed(size).ok) continue;
      return [{ blocks, plantsPerPlot, plants: plotsOf(size) * plantsPerPlot, tells: whatItTells(size) }];
    }
    return [];
  };
  const counts = blockCounts(request);
  let plans = counts.flatMap((blocks) => atMost(blocks, fewestPlants));
  if (plans.length === 0) plans = counts.flatMap((blocks) => atMost(blocks, 1));
  if (plans.length === 0 && (request.design === "rcbd" || request.design === "crd")) plans = atMost(1, 1);
  plans.sort((a, b) => halfWidth(a) - halfWidth(b));
  const [proposed] = plans
    .filter((plan) => halfWidth(plan) <= halfWidth(plans[0]) + nearEnough)
    .sort((a, b) => a.plants - b.plants);
  return proposed ? [proposed, ...plans.filter((plan) => plan !== proposed)] : [];
}
