import { betaUpper } from "@/lib/statistics/beta";
import { clumpedCount, normalVariate } from "@/lib/statistics/clumped-count";
import { effectiveMainPlots, type MainPlotCount } from "@/lib/statistics/effective-main-plots";
import { effectivePlants } from "@/lib/statistics/effective-plants";
import { floorProbability } from "@/lib/statistics/floor-probability";
import type { Estimate, Interval } from "@/lib/statistics/interval";
import { kaplanMeierLimits } from "@/lib/statistics/kaplan-meier-limits";
import { countUpTo } from "@/lib/statistics/lifetimes";
import { type LookSeePlot, lookSeeBed } from "@/lib/statistics/look-see-bed";
import { moverDifference } from "@/lib/statistics/mover-difference";
import { newcombeDifference, type WeighedShare } from "@/lib/statistics/newcombe-difference";
import { normalQuantile } from "@/lib/statistics/normal";
import type { PlotCount } from "@/lib/statistics/plot-count";
import { publishedDesignEffect } from "@/lib/statistics/published-design-effect";
import { type RandomStream, randomStream } from "@/lib/statistics/random-stream";
import { type FollowedPlot, standingLimits } from "@/lib/statistics/standing-limits";
import { survivalRandomisation } from "@/lib/statistics/survival-randomisation";
import { threeWayRule } from "@/lib/statistics/three-way-rule";
import { wilsonInterval } from "@/lib/statistics/wilson-interval";
import {
  type Cell,
  type CoverCell,
  type DecidingCell,
  type FamilyCell,
  type LookSeeCell,
  type LuckCell,
  type RemovedCell,
  type SurvivalCell,
  studiedFloor,
} from "./calibration-cells";

/** How often something came true in the trials of one cell, and how wide the intervals were together. */
export interface Tally {
  trials: number;
  hits: number;
  width: number;
}

export type Tallies = Record<string, Tally>;

/** Simulates one cell's trials from its own seed and judges each; the same seed gives the same tallies anywhere. */
export function runCell(cell: Cell, trials: number, seed: number): Tallies {
  const stream = randomStream(seed);
  const tallies: Tallies = {};
  const count = (name: string, hit: boolean, width = 0) => {
    tallies[name] ??= { trials: 0, hits: 0, width: 0 };
    tallies[name].trials += 1;
    if (hit) tallies[name].hits += 1;
    tallies[name].width += width;
  };
  for (let trial = 0; trial < trials; trial += 1) judge(cell, stream, count);
  return tallies;
}

type Count = (name: string, hit: boolean, width?: number) => void;

function judge(cell: Cell, stream: RandomStream, count: Count): void {
  if (cell.study === "survival") judgeSurvival(cell, stream, count);
  else if (cell.study === "removed") judgeRemoved(cell, stream, count);
  else if (cell.study === "deciding") judgeDeciding(cell, stream, count);
  else if (cell.study === "family") judgeFamily(cell, stream, count);
  else if (cell.study === "cover") judgeCover(cell, stream, count);
  else if (cell.study === "look-see") judgeLookSee(cell, stream, count);
  else judgeLuck(cell, stream, count);
}

const level = 0.95;
const logit = (share: number) => Math.log(share / (1 - share));
const expit = (value: number) => 1 / (1 + Math.exp(-value));
const covers = ({ low, high }: Interval, truth: number) => low - 1e-12 <= truth && truth <= high + 1e-12;
const mean = (values: number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

interface Simulated {
  plots: PlotCount[];
  /** Each variety's true share over the blocks of this bed. */
  truth: number[];
}

/** One trial: beta-binomial plots on a logit model of variety + block. */
function simulate(cell: Omit<SurvivalCell, "study">, stream: RandomStream): Simulated {
  const { varieties, blocks, plants, layout, icc } = cell;
  const block = Array.from({ length: blocks }, () => cell.blockSd * normalVariate(stream));
  const shares = cell.shares.map((share) => {
    const moved = logit(share) + (cell.jitter ? 0.8 * stream.uniform() - 0.4 : 0);
    return block.map((shift) => expit(moved + shift));
  });
  const plots: PlotCount[] = [];
  for (let variety = 0; variety < varieties; variety += 1) {
    const lost = layout === "missing" ? block.map(() => stream.uniform() < 0.15) : [];
    if (lost.length > 0 && lost.every(Boolean)) lost[stream.whole(blocks)] = false;
    for (let index = 0; index < blocks; index += 1) {
      if (lost[index]) continue;
      const least = Math.ceil(plants / 2);
      const setOut = layout === "unequal" ? least + stream.whole(plants - least + 1) : plants;
      const standing = clumpedCount(stream, setOut, shares[variety][index], icc);
      const place = { block: layout === "one plot each" ? null : `b${index}`, row: null, column: null };
      plots.push({ variety: `v${variety}`, ...place, setOut, standing });
    }
  }
  return { plots, truth: shares.map(mean) };
}

const layoutOf = (cell: Pick<SurvivalCell, "layout">) => (cell.layout === "one plot each" ? "crd" : "rcbd");

/** What each method says of the first variety, the second, and their difference. */
function judgeSurvival(cell: SurvivalCell, stream: RandomStream, count: Count): void {
  const { plots, truth } = simulate(cell, stream);
  const effective = effectivePlants(plots, layoutOf(cell), level).varieties.slice(0, 2);
  const published = publishedDesignEffect(plots, level).varieties;
  const weighed: Record<string, (WeighedShare | null)[]> = {
    independent: effective.map(({ share, setOut }) => ({ share: share ?? 0, plants: setOut })),
    published: published
      .slice(0, 2)
      .map(({ share, effectivePlants: own }) =>
        share === null || own === null ? null : { share, plants: own },
      ),
    effective: effective.map(({ share, effectivePlants: own }) => ({ share: share ?? 0, plants: own ?? 0 })),
    known: effective.map(({ share, setOut, clusterSize }) => ({
      share: share ?? 0,
      plants: setOut / (1 + ((clusterSize ?? 1) - 1) * cell.icc),
    })),
  };
  for (const [method, [first, second]] of Object.entries(weighed)) {
    if (!first || !second) continue;
    [first, second].forEach((own, variety) => {
      const limits = wilsonInterval(Math.min(own.plants, own.share * own.plants), own.plants, level);
      count(
        `${method} ${variety === 0 ? "first" : "second"}`,
        covers(limits, truth[variety]),
        limits.high - limits.low,
      );
    });
    const difference = newcombeDifference(first, second, level);
    count(`${method} difference`, covers(difference, truth[0] - truth[1]), difference.high - difference.low);
  }
}

const walkabouts = 4;

/**
 * The limits at the second and the last of four walkabouts where plants were taken out whole: each plant that is lost
 * is missed at one of the four, and each may be taken out at one of the first three if it stands there.
 */
function judgeRemoved(cell: RemovedCell, stream: RandomStream, count: Count): void {
  const { plots: ended, truth } = simulate(cell, stream);
  const plots = ended.map(({ variety, block, row, column, setOut, standing }): FollowedPlot => {
    const times: number[] = [];
    const causes: number[] = [];
    for (let plant = 0; plant < setOut; plant += 1) {
      const missed = plant < standing ? walkabouts + 1 : 1 + stream.whole(walkabouts);
      const taken = stream.uniform() < cell.removed ? 1 + stream.whole(walkabouts - 1) : walkabouts;
      times.push(Math.min(missed, taken));
      causes.push(missed <= taken ? 1 : 0);
    }
    return { variety, block, row, column, times, causes };
  });
  const dates = [walkabouts / 2, walkabouts];
  const { varieties } = standingLimits(plots, "rcbd", dates, level);
  const plain = varieties.slice(0, 2).map(({ curve }) => kaplanMeierLimits(curve, "log–log", level));
  dates.forEach((date, at) => {
    const shares = truth.map((share) => 1 - (1 - share) * (date / walkabouts));
    const steps = varieties.slice(0, 2).map(({ steps: own }) => own[at]);
    steps.forEach(({ low, high }, variety) => {
      if (low !== null && high !== null)
        count(`effective ${date}`, covers({ low, high }, shares[variety]), high - low);
      const last = countUpTo(varieties[variety].curve.times, date) - 1;
      const plainLow = plain[variety].low[last] ?? null;
      const plainHigh = plain[variety].high[last] ?? null;
      if (plainLow !== null && plainHigh !== null)
        count(
          `independent ${date}`,
          covers({ low: plainLow, high: plainHigh }, shares[variety]),
          plainHigh - plainLow,
        );
    });
    const [first, second] = steps.map(({ share, effectivePlants: own }) => ({
      share: share ?? 0,
      plants: own ?? 0,
    }));
    if (first.plants === 0 || second.plants === 0) return;
    const difference = newcombeDifference(first, second, level);
    count(`difference ${date}`, covers(difference, shares[0] - shares[1]), difference.high - difference.low);
  });
}

/** What the rule proposes for the first variety, and what it would propose of plants taken as independent. */
function judgeDeciding(cell: DecidingCell, stream: RandomStream, count: Count): void {
  const { plots } = simulate(cell, stream);
  const fit = effectivePlants(plots, "rcbd", level);
  const { standing, setOut, clusterSize } = fit.varieties[0];
  const probabilities = {
    effective: floorProbability(
      fit.clumping,
      { standing, setOut, clusterSize: clusterSize ?? 1 },
      studiedFloor,
    ),
    independent: betaUpper(studiedFloor, standing + 0.5, setOut - standing + 0.5),
  };
  for (const [method, probability] of Object.entries(probabilities))
    for (const sureness of [0.8, 0.9]) {
      const choice = threeWayRule([probability], sureness, false);
      count(`${method} ${sureness} grow`, choice === "grow again");
      count(`${method} ${sureness} drop`, choice === "drop");
    }
}

/** Whether the differences to the check (the second variety) hold all together. */
function judgeFamily(cell: FamilyCell, stream: RandomStream, count: Count): void {
  const { plots, truth } = simulate(cell, stream);
  for (const [name, comparisons] of [
    ["each at 95 %", 1],
    ["family", cell.varieties - 1],
  ] as const) {
    const fit = effectivePlants(plots, "rcbd", level, comparisons);
    const weighed = fit.varieties.map(({ share, effectivePlants: own }) => ({
      share: share ?? 0,
      plants: own ?? 0,
    }));
    const differences = weighed.map((own) => newcombeDifference(own, weighed[1], fit.level));
    const others = differences.flatMap((difference, variety) =>
      variety === 1 ? [] : [{ difference, variety }],
    );
    const held = others.every(({ difference, variety }) => covers(difference, truth[variety] - truth[1]));
    count(name, held, mean(others.map(({ difference }) => difference.high - difference.low)));
  }
}

const weigh = ({
  share,
  effectivePlants: own,
}: {
  share: number | null;
  effectivePlants: number | null;
}) => ({
  share: share ?? 0,
  plants: own ?? 0,
});
const spreadPoints = Array.from({ length: 20 }, (_, index) => normalQuantile((index + 0.5) / 20));

/** Two covers on main plots: the covers, two varieties within one, and how that difference changes with the cover. */
function judgeCover(cell: CoverCell, stream: RandomStream, count: Count): void {
  const { varieties, blocks, plants, icc, mainPlotSd } = cell;
  const base = [0.85, 0.6].map((share) =>
    Array.from(
      { length: varieties },
      (_, variety) => logit(share) + (variety - 1) * 0.7 + 0.8 * stream.uniform() - 0.4,
    ),
  );
  const block = Array.from({ length: blocks }, () => 0.4 * normalVariate(stream));
  const plots: MainPlotCount[] = [];
  const coverTruth = [0, 1].map(() => [] as number[]);
  const own = [0, 1].map(() => Array.from({ length: varieties }, () => [] as number[]));
  for (let cover = 0; cover < 2; cover += 1)
    for (let index = 0; index < blocks; index += 1) {
      const shift = mainPlotSd * normalVariate(stream);
      for (let variety = 0; variety < varieties; variety += 1) {
        const middle = base[cover][variety] + block[index];
        coverTruth[cover].push(mean(spreadPoints.map((point) => expit(middle + mainPlotSd * point))));
        const share = expit(middle + shift);
        own[cover][variety].push(share);
        plots.push({
          treatment: `c${cover}`,
          mainPlot: `c${cover} b${index}`,
          block: `b${index}`,
          variety: `v${variety}`,
          setOut: plants,
          standing: clumpedCount(stream, plants, share, icc),
        });
      }
    }
  const [first, second] = effectiveMainPlots(plots, level).treatments.map(weigh);
  const cover = newcombeDifference(first, second, level);
  count("cover", covers(cover, mean(coverTruth[0]) - mean(coverTruth[1])), cover.high - cover.low);

  const cells = plots.map(({ treatment, mainPlot, variety, setOut, standing }) => ({
    variety: `${variety} ${treatment}`,
    block: mainPlot,
    row: null,
    column: null,
    setOut,
    standing,
  }));
  const shares = new Map(
    effectivePlants(cells, "rcbd", level).varieties.map((each) => [each.variety, weigh(each)]),
  );
  const within = [0, 1].map((at): { difference: Estimate; truth: number } => {
    const [a, b] = [shares.get(`v0 c${at}`), shares.get(`v1 c${at}`)];
    if (!a || !b) throw new Error("a variety has no plots under a cover");
    return { difference: newcombeDifference(a, b, level), truth: mean(own[at][0]) - mean(own[at][1]) };
  });
  const [here, there] = within;
  count(
    "variety within a cover",
    covers(here.difference, here.truth),
    here.difference.high - here.difference.low,
  );
  const crossed = moverDifference(here.difference, there.difference);
  count("variety × cover", covers(crossed, here.truth - there.truth), crossed.high - crossed.low);
}

/** Eight entries once among repeated checks, on ground that may get better along the bed. */
function judgeLookSee(cell: LookSeeCell, stream: RandomStream, count: Count): void {
  const size = 8 + cell.checks;
  const checkAt = new Set(
    Array.from({ length: cell.checks }, (_, index) => Math.round(((index + 0.5) * size) / cell.checks - 0.5)),
  );
  const truth = new Map<string, number>();
  const own = new Map<string, number>();
  const moved = logit(0.8) + 0.8 * stream.uniform() - 0.4;
  const plots = Array.from({ length: size }, (_, index): LookSeePlot => {
    const rise = cell.trend * (index / (size - 1) - 0.5);
    const isCheck = checkAt.has(index);
    const middle = isCheck ? moved : logit(cell.entryShare) + 0.8 * stream.uniform() - 0.4;
    const share = expit(middle + rise);
    const name = isCheck ? "check" : `entry ${index}`;
    truth.set(name, share - expit(moved + rise));
    own.set(name, share);
    const standing = clumpedCount(stream, cell.plants, share, cell.icc);
    return { plot: `${index}`, variety: name, isCheck, x: index, y: 0, setOut: cell.plants, standing };
  });
  for (const { variety, low, high, difference } of lookSeeBed(plots, level).entries) {
    if (low === null || high === null || difference === null) continue;
    count("entry", covers({ low, high }, own.get(variety) ?? Number.NaN), high - low);
    count(
      "difference",
      covers(difference, truth.get(variety) ?? Number.NaN),
      difference.high - difference.low,
    );
  }
}

/** How often the randomisation test calls the first two varieties apart at 1 in 20. */
function judgeLuck(cell: LuckCell, stream: RandomStream, count: Count): void {
  const varieties = cell.shares.length;
  const { plots } = simulate({ ...cell, layout: "full", varieties, blockSd: 0.4, jitter: false }, stream);
  const pairs = cell.shares.flatMap((_, variety): [string, string][] =>
    variety === 1 ? [] : [[`v${variety}`, "v1"]],
  );
  const [first] = survivalRandomisation(plots, "rcbd", pairs, 499, stream).comparisons;
  count("pair", first.p <= 0.05);
  count("family", first.pFamily <= 0.05);
}
