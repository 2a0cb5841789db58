import { clumpedQuantile, clumping } from "@/lib/statistics/clumping";
import { newcombeDifference } from "@/lib/statistics/newcombe-difference";
import { normalCdf, normalQuantile } from "@/lib/statistics/normal";
import { smallestP } from "@/lib/statistics/smallest-p";
import { tTestNonCentrality } from "@/lib/statistics/t-test-power";
import { wilsonInterval } from "@/lib/statistics/wilson-interval";
import { sayLayoutReach } from "@/lib/words/say-layout-reach";
import { factorWords, type MainFactor } from "@/lib/words/trial";
import type { FitRequest } from "./fit-bed";
import { incompleteBlocks } from "./incomplete-blocks";

/** A trial's size; see `FitRequest` for what each number means. */
export type TrialSize = Pick<
  FitRequest,
  "design" | "entries" | "blocks" | "plantsPerPlot" | "levels" | "checks" | "plotsPerBlock"
> & {
  scatter?: Scatter;
  /** What the levels are, where there are any; covers where nothing is said. */
  factor?: MainFactor;
};

/** How plants and plots scattered in trials of one's own; null where they do not say. */
export interface Scatter {
  /** Intra-class correlation of survival in a plot. */
  icc: number | null;
  /** Coefficient of variation of plots' yields, as a share. */
  cv: number | null;
  /** Where it comes from, for reading: `your 2 trials of kale`. */
  from: string;
}

export interface WhatItTells {
  /** How many plants, each with a plot to itself, would tell as much as one variety's. */
  effectivePlants: number;
  /** Limits of the share if about three in four stand, and how many plants that is. */
  standing: number;
  low: number;
  high: number;
  /** The smallest difference, as it is seen, to a variety that stands at three in four which would show; null when none would. */
  clearDifference: number | null;
  /** The smallest true difference in survival that would show four times in five, and once in four; null when none would. */
  oftenSeen: number | null;
  seldomSeen: number | null;
  /**
   * By how much less than the check, as a share of its yield, a variety must yield to show four times in five; in a split
   * plot, over all covers or sowings. Null where nothing is left to judge scatter by.
   */
  yieldOftenSeen: number | null;
  /** Plots less what is fitted: what is left to judge the scatter by. */
  residualDf: number;
  /** The least p that re-dealing this layout can give; null where it is not counted. */
  smallestP: number | null;
  /** All of it for reading, in short sentences. */
  sentences: string[];
  /** What was taken for clumping and scatter, and where it comes from: a sentence or two. */
  taken: string;
}

const level = 0.95;
const tail = (1 - level) / 2;
/** Taken where no trial of one's own says better. */
const usualIcc = 0.1;
/** Of the check's plants, so many are taken to stand. */
export const usualShare = 0.75;
/** The prior on clumping that `effectiveMainPlots` has. */
const mainPlotPrior = 6;
/** Main plots are taken to differ by so much on the logit besides: the middle of what the interval for covers was tried on. */
export const usualMainPlotSd = 0.3;
/** The middle of the 20 to 30 in 100 that yields of small plots scatter by (common practice). */
const usualCv = 0.25;
const often = 0.8;
const seldom = 0.25;
/** A yield less by this much is as good as none. */
export const noYield = 0.95;

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

/** The scatter to reckon with: one's own where it is known, else what is usual. */
export function scatterOf({ scatter }: TrialSize): { icc: number; cv: number } {
  return { icc: scatter?.icc ?? usualIcc, cv: scatter?.cv ?? usualCv };
}

/** What was taken for clumping and scatter, and where it comes from. */
function takenWords({ scatter, design }: TrialSize): string {
  const from = (own: number | null | undefined, usual: string) =>
    own == null ? `${usual}; no trial of yours says better yet` : `from ${scatter?.from}`;
  const icc = (scatter?.icc ?? usualIcc).toFixed(scatter?.icc == null ? 1 : 2);
  const cv = hundredth(scatter?.cv ?? usualCv);
  const besides =
    design === "split-plot"
      ? ` Main plots are taken to differ by ${usualMainPlotSd} on the logit besides, a guess that no trial of yours can better yet.`
      : "";
  return `Taken for this: plants of one plot share their fate by an intra-class correlation of ${icc} (${from(scatter?.icc, "a usual figure")}), and yields of plots scatter by ${cv} in 100 (${from(scatter?.cv, "common practice")}).${besides}`;
}

/** Plots of one variety: in a split plot, under one cover. */
export function plotsEach({ design, entries, blocks }: TrialSize): number {
  if (design === "latin") return entries;
  return design === "augmented" ? 1 : blocks;
}

/** Plots less varieties and whatever else is fitted; in an augmented bed, of the check plots alone. */
function residualDfOf(size: TrialSize): number {
  const { design, entries, blocks, levels = 1, plotsPerBlock = entries } = size;
  if (design === "crd") return (blocks - 1) * entries;
  if (design === "latin") return (entries - 1) * (entries - 2);
  if (design === "split-plot") return levels * (blocks - 1) * (entries - 1);
  if (design === "augmented") return blocks - 1;
  if (design === "incomplete-blocks") {
    const perReplicate = incompleteBlocks(entries, plotsPerBlock)?.blocksPerReplicate ?? 1;
    return Math.max(0, blocks * entries - entries - blocks * perReplicate + 1);
  }
  return (blocks - 1) * (entries - 1);
}

/** The smallest p of the layout against one check; for a split plot, of varieties under one cover. */
function layoutSmallestP(size: TrialSize): number | null {
  const { design, entries, plantsPerPlot } = size;
  if (entries < 2 || design === "augmented" || design === "incomplete-blocks") return null;
  const plots = Array.from({ length: entries * plotsEach(size) }, (_, index) => ({
    variety: String(index % entries),
    block: String(Math.floor(index / entries)),
    row: Math.floor(index / entries),
    column: index % entries,
    setOut: plantsPerPlot,
    standing: plantsPerPlot,
  }));
  const pairs = Array.from({ length: entries - 1 }, (_, index) => [String(index + 1), "0"] as const);
  return smallestP(plots, design === "split-plot" ? "rcbd" : design, pairs);
}

/**
 * The smallest true difference below the usual share that would show in so many of trials like this one.
 *
 * A trial shows a difference where the seen one passes `clearDifference`; the seen one scatters about the true one as
 * normal, with the variance of two shares of plants clumped as usual. Closed form, near enough for planning.
 */
function differenceSeen(clearDifference: number | null, plants: number, chance: number): number | null {
  if (clearDifference === null) return null;
  const power = (difference: number) => {
    const share = usualShare - difference;
    const variance = (usualShare * (1 - usualShare) + share * (1 - share)) / plants;
    return normalCdf((difference - clearDifference) / Math.sqrt(variance));
  };
  if (power(usualShare) < chance) return null;
  let low = 0;
  let high = usualShare;
  while (high - low > 1e-4) {
    const middle = (low + high) / 2;
    if (power(middle) >= chance) high = middle;
    else low = middle;
  }
  return high;
}

/** Standard errors that a difference must be to show so often, by residual df: the same few are asked for again and again. */
const errorsSeen = new Map<string, number>();

/**
 * What the limits of a yield's multiple rest on: their df, and the variance of a difference of two varieties' log yields
 * with plots of variance 1, beside what the layout takes out.
 *
 * A split plot's multiple is over all that is compared on main plots together, against the error within them. In small blocks part of the plots'
 * worth goes into telling blocks apart: the upper bound of an alpha layout's efficiency (patterson-williams-1976). In a
 * look-see bed a new variety stands once, beside so many checks in every block; with one check nothing is left.
 */
function yieldBase(size: TrialSize): { df: number; variance: number } {
  const { design, entries, blocks, levels = 1, checks = 0, plotsPerBlock = entries } = size;
  if (design === "split-plot") return { df: residualDfOf(size), variance: 2 / (blocks * levels) };
  if (design === "augmented")
    return { df: (checks - 1) * (blocks - 1), variance: 1 + 1 / checks + (1 - 1 / checks) / blocks };
  if (design === "incomplete-blocks") {
    const perReplicate = incompleteBlocks(entries, plotsPerBlock)?.blocksPerReplicate ?? 1;
    const alike = (entries - 1) * (blocks - 1);
    const efficiency = alike / (alike + blocks * (perReplicate - 1));
    return { df: residualDfOf(size), variance: 2 / (blocks * efficiency) };
  }
  return { df: residualDfOf(size), variance: 2 / plotsEach(size) };
}

/**
 * By how much less than the check a variety must yield, as a share of the check's, to show in so many of trials like this
 * one. As the results have it: limits of t for the difference of log yields, plots scattering by that CV.
 *
 * Source: as `tTestPower` (lib/statistics/t-test-power.ts), on log yield.
 * Checked: tests/database/simulating.test.ts, through the analysis itself.
 */
function yieldSeen(size: TrialSize, chance: number): number | null {
  const { df, variance } = yieldBase(size);
  if (df < 1) return null;
  const key = `${df} ${chance}`;
  const errors = errorsSeen.get(key) ?? tTestNonCentrality(chance, df, level);
  errorsSeen.set(key, errors);
  return -Math.expm1(-errors * scatterOf(size).cv * Math.sqrt(variance));
}

/** Below it the results warn. */
const fewestDf = 6;
const lookSeeWords =
  "This bed can tell dead from alive. The best-looking variety is usually worse than it looks; there are no ranks, and nothing is to be grown again on it alone.";

/**
 * The smallest true difference between two covers or sowing dates that would show four times in five, as a share; null
 * where none would, and under three blocks, where they are described and not compared.
 *
 * As `reachOf`, with whole main plots as clusters: plants of a plot clumped, main plots differing besides, and the weight
 * that the analysis of main plots gives to clumping. Closed form, near enough for planning.
 */
export function mainPlotsSeen(size: TrialSize): number | null {
  const { entries, blocks, plantsPerPlot, levels = 2 } = size;
  if (blocks < 3) return null;
  const df = (levels - 1) * (blocks - 1);
  const cluster = entries * plantsPerPlot;
  const binomial = usualShare * (1 - usualShare);
  const ofPlots = 1 + (plantsPerPlot - 1) * scatterOf(size).icc;
  const effect = ofPlots + cluster * binomial * usualMainPlotSd ** 2;
  const belief = clumping({ f: effect, df, effectiveDf: df, clusterSize: cluster }, mainPlotPrior);
  const plants = blocks * cluster;
  const effective = plants * (-normalQuantile(tail) / clumpedQuantile(belief, cluster, tail)) ** 2;
  return differenceSeen(clearDifferenceAt(effective), plants / effect, often);
}

/** Varieties that were treated alike, by what main plots are dealt. */
const alikeWords: Record<MainFactor, string> = {
  cover: "under one cover",
  sowing: "of one sowing",
  companion: "grown alike",
};

/** @param oftenSeen of varieties under one cover */
function mainPlotWords(size: TrialSize, oftenSeen: number | null): string {
  const { blocks, levels = 2, factor = "cover" } = size;
  const { many } = factorWords[factor];
  if (blocks < 3)
    return `With ${blocks === 1 ? "one block" : "two blocks"} the ${many} are described, not compared; the varieties ${alikeWords[factor]} are compared.`;
  const seen = mainPlotsSeen(size);
  const isBetter = oftenSeen !== null && (seen === null || oftenSeen < seen);
  const weak = isBetter ? ` Varieties ${alikeWords[factor]} are compared better.` : "";
  const only =
    seen === null
      ? "no difference between them so often as four times in five"
      : `only differences above about ${hundredth(seen)} points between them`;
  return `${many.charAt(0).toUpperCase()}${many.slice(1)} are compared by whole main plots, on ${(levels - 1) * (blocks - 1)} degrees of freedom: expect to see ${only}.${weak}`;
}

function hundredth(share: number): number {
  return Math.round(share * 100);
}

/** What a size of trial reaches, in bare numbers; as `whatItTells` has them. */
export function reachOf(size: TrialSize) {
  const { plantsPerPlot } = size;
  const { icc } = scatterOf(size);
  const df = residualDfOf(size);
  const plots = plotsEach(size);
  const belief = clumping({
    f: df === 0 ? null : 1 + (plantsPerPlot - 1) * icc,
    df,
    effectiveDf: df,
    clusterSize: plantsPerPlot,
  });
  const plants = plots * plantsPerPlot;
  const effectivePlants =
    plants * (-normalQuantile(tail) / clumpedQuantile(belief, plantsPerPlot, tail)) ** 2;
  const clearDifference = clearDifferenceAt(effectivePlants);
  const asClumped = plants / (1 + (plantsPerPlot - 1) * icc);
  return {
    df,
    plants,
    effectivePlants,
    clearDifference,
    oftenSeen: differenceSeen(clearDifference, asClumped, often),
    seldomSeen: differenceSeen(clearDifference, asClumped, seldom),
    yieldOftenSeen: yieldSeen(size, often),
  };
}

/**
 * How little a trial of this size can prove, told before anything is sown.
 *
 * The interval is the one that the results will use (effective plants), at the scatter that would be expected if plants
 * of one plot shared their fate as in one's own trials, or as usual: an intra-class correlation of 0.1. A real result will
 * be wider or narrower by luck. What would be seen four times in five is a closed form; yields are taken to scatter as in
 * one's own trials, or by a coefficient of variation of 25 %. In a split plot it speaks of varieties under one cover.
 *
 * @param size two varieties or more; `scatter` is of one's own trials of the crop
 *
 * Source: our own construction (effective-plants.ts); wilson-1927, newcombe-1998-difference.
 * Checked: tests/unit/design/what-it-tells.test.ts.
 * Example: 4 varieties × 4 blocks × 3 plants: 12 plants tell about as much as 9; 9 of 12 standing leaves 42 to 93 in
 * 100 possible.
 */
export function whatItTells(size: TrialSize): WhatItTells {
  const { design } = size;
  const plots = plotsEach(size);
  const reach = reachOf(size);
  const { plants, effectivePlants, clearDifference, oftenSeen, seldomSeen, yieldOftenSeen, df } = reach;
  const standing = Math.round(plants * usualShare);
  const { low, high } = wilsonInterval((standing / plants) * effectivePlants, effectivePlants, level);
  const smallest = layoutSmallestP(size);

  const inPlots = plots === 1 ? "in one plot" : `in ${plots} plots`;
  const { factor = "cover" } = size;
  const under = design === "split-plot" ? ` ${alikeWords[factor]}` : "";
  const together =
    design === "split-plot"
      ? `, ${factor === "companion" ? "with and without" : `all ${factorWords[factor].many}`} together,`
      : "";
  const effective = Math.max(1, Math.round(effectivePlants));
  const sentences: string[] = [];
  if (oftenSeen !== null && seldomSeen !== null)
    sentences.push(
      `You would see a true difference of ${hundredth(oftenSeen)} points in survival four times in five; of ${hundredth(seldomSeen)} points once in four. That is, 75 in 100 of one standing against ${hundredth(usualShare - oftenSeen)}, or ${hundredth(usualShare - seldomSeen)}, of the other.`,
    );
  else if (clearDifference !== null)
    sentences.push("No true difference in survival would be seen as often as four times in five.");
  if (yieldOftenSeen !== null && yieldOftenSeen < noYield)
    sentences.push(
      `In yield${together} you would see, four times in five, a variety that gives ${hundredth(yieldOftenSeen)} in 100 less than the check.`,
    );
  else if (yieldOftenSeen !== null)
    sentences.push("In yield, not even a variety that gives next to nothing would be told from the check.");
  sentences.push(
    `${plants} plants of each variety${under} ${inPlots} tell about as much as ${effective} that each had a plot to themselves.`,
    `If ${standing} of ${plants} stand, the true share may lie anywhere from ${hundredth(low)} to ${hundredth(high)} in 100.`,
    clearDifference === null
      ? "Even a variety that is lost entirely would not show a clear difference to one that stands at three in four."
      : `Against a variety that stands at three in four, only a difference of about ${hundredth(clearDifference)} points or more will show clearly.`,
  );
  if (design === "augmented") sentences.push(lookSeeWords);
  else if (plots === 1) sentences.push("One plot cannot tell a variety from its spot.");
  else if (smallest !== null && smallest > 0.05) sentences.push(sayLayoutReach(size.entries));
  if (design === "split-plot") sentences.push(mainPlotWords(size, oftenSeen));
  if (df > 0 && df < fewestDf)
    sentences.push(
      `Only ${df} of its plots’ worth are left to judge the scatter by: six or more are better.`,
    );
  return {
    effectivePlants,
    standing,
    low,
    high,
    clearDifference,
    oftenSeen,
    seldomSeen,
    yieldOftenSeen,
    residualDf: df,
    smallestP: smallest,
    sentences,
    taken: takenWords(size),
  };
}
