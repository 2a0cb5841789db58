import { clumpedQuantile, clumping } from "@/lib/statistics/clumping";
import { newcombeDifference } from "@/lib/statistics/newcombe-difference";
import { normalQuantile } from "@/lib/statistics/normal";
import { smallestP } from "@/lib/statistics/smallest-p";
import { wilsonInterval } from "@/lib/statistics/wilson-interval";
import type { Design } from "@/lib/words/trial";

export interface TrialSize {
  design: Design;
  entries: number;
  /** Blocks, or plots of each variety where there are none. */
  blocks: number;
  plantsPerPlot: number;
}

export interface WhatItTells {
  /** How many plants, each with a plot to itself, would tell as much as one variety's. */
  effectivePlants: number;
  /** Limits of the share if about three in four stand, and how many plants that is. */
  standing: number;
  low: number;
  high: number;
  /** The smallest difference to a variety that stands at three in four which would show; null when none would. */
  clearDifference: number | null;
  /** All of it for reading, in short sentences. */
  sentences: string[];
}

const level = 0.95;
const tail = (1 - level) / 2;
/** Taken where no trial of one's own says better. */
const usualIcc = 0.1;
const usualShare = 0.75;

/** The smallest difference below the usual share whose interval leaves out no difference. */
function clearDifferenceAt(plants: number): number | null {
  const shows = (difference: number) => {
    const check = { share: usualShare, plants };
    return newcombeDifference({ share: usualShare - difference, plants }, check, level).high < 0;
  };
  if (!shows(usualShare)) return null;
  let low = 0;
  let high = usualShare;
  while (high - low > 1e-4) {
    const middle = (low + high) / 2;
    if (shows(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/** The smallest p of the layout against one check. */
function layoutSmallestP({ design, entries, blocks, plantsPerPlot }: TrialSize): number | null {
  const plots = Array.from({ length: entries * blocks }, (_, index) => ({
    variety: String(index % entries),
    block: String(Math.floor(index / entries)),
    row: null,
    column: null,
    setOut: plantsPerPlot,
    standing: plantsPerPlot,
  }));
  const pairs = Array.from({ length: entries - 1 }, (_, index) => [String(index + 1), "0"] as const);
  return smallestP(plots, design, pairs);
}

function hundredth(share: number): number {
  return Math.round(share * 100);
}

/**
 * How little a trial of this size can prove about survival, told before anything is sown.
 *
 * The interval is the one that the results will use (effective plants), at the scatter that would be expected if plants
 * of one plot shared their fate as usual: an intra-class correlation of 0.1, since no trial of one's own is asked. A
 * real result will be wider or narrower by luck. It tells nothing of yield.
 *
 * @param size two varieties or more
 *
 * Source: our own construction (effective-plants.ts); wilson-1927, newcombe-1998-difference.
 * Checked: tests/unit/design/what-it-tells.test.ts.
 * Example: 4 varieties × 4 blocks × 3 plants: 12 plants tell about as much as 9; 9 of 12 standing leaves 42 to 93 in
 * 100 possible.
 */
export function whatItTells(size: TrialSize): WhatItTells {
  const { design, entries, blocks, plantsPerPlot } = size;
  const df = design === "rcbd" ? (blocks - 1) * (entries - 1) : (blocks - 1) * entries;
  const belief = clumping({
    f: df === 0 ? null : 1 + (plantsPerPlot - 1) * usualIcc,
    df,
    effectiveDf: df,
    clusterSize: plantsPerPlot,
  });
  const plants = blocks * plantsPerPlot;
  const effectivePlants =
    plants * (-normalQuantile(tail) / clumpedQuantile(belief, plantsPerPlot, tail)) ** 2;
  const standing = Math.round(plants * usualShare);
  const { low, high } = wilsonInterval((standing / plants) * effectivePlants, effectivePlants, level);
  const clearDifference = clearDifferenceAt(effectivePlants);
  const smallest = entries > 1 ? layoutSmallestP(size) : null;

  const inPlots = blocks === 1 ? "in one plot" : `in ${blocks} plots`;
  const effective = Math.max(1, Math.round(effectivePlants));
  const sentences = [
    `${plants} plants of each variety ${inPlots} tell about as much as ${effective} that each had a plot to themselves.`,
    `If ${standing} of ${plants} stand, the true share may lie anywhere from ${hundredth(low)} to ${hundredth(high)} in 100.`,
    clearDifference === null
      ? `Even a variety that is lost entirely would not show a clear difference to one that stands at three in four.`
      : `Against a variety that stands at three in four, only a difference of about ${hundredth(clearDifference)} points or more will show clearly.`,
  ];
  if (blocks === 1) sentences.push("One plot cannot tell a variety from its spot.");
  else if (smallest !== null && smallest > 0.05)
    sentences.push("This layout cannot reach 1 in 20 however clear the result; read the interval.");
  sentences.push(
    "Taken for this: plants of one plot share their fate as usual (intra-class correlation 0.1).",
  );
  return { effectivePlants, standing, low, high, clearDifference, sentences };
}
