import { aalenJohansen } from "@/lib/statistics/aalen-johansen";
import { analysisOfVariance } from "@/lib/statistics/analysis-of-variance";
import { crossedFactor, factor } from "@/lib/statistics/factor";
import { kaplanMeier } from "@/lib/statistics/kaplan-meier";
import { linearModel } from "@/lib/statistics/linear-model";
import { logRank } from "@/lib/statistics/log-rank";
import { allPairs, marginalDifferences, marginalMeans } from "@/lib/statistics/marginal-means";
import { mixedModel } from "@/lib/statistics/mixed-model";
import { normalQuantile } from "@/lib/statistics/normal";
import { randomStream } from "@/lib/statistics/random-stream";
import { survivalRandomisation } from "@/lib/statistics/survival-randomisation";
import { yieldRandomisation } from "@/lib/statistics/yield-randomisation";
import type { FindingsBench } from "./bench-findings";

/** One thing to be timed here and, where R has the like, in R on the same data. */
export interface BenchCase {
  name: string;
  /** How many times as fast as R it should be; null where R has nothing like it. */
  target: number | null;
  /** Seconds that it should not take, where that was asked for. */
  limit: number | null;
  /** How often each side runs it, once more to warm up left aside; the quickest counts. */
  runs: number;
  /** Handed to R as the data frame `data`. */
  data: Record<string, readonly (string | number)[]>;
  /** Done before each run, and not timed. */
  before?(): void;
  here(): unknown;
  r: { packages: string[]; call: string } | null;
}

const stream = randomStream(20_261_125);
const normal = () => normalQuantile(stream.uniform());

/** 100,000 plants of 8 varieties in 12 blocks, seen daily for 200 days, lost to one of three causes or standing. */
function plants() {
  const size = 100_000;
  const variety = Array.from({ length: size }, () => stream.whole(8));
  const block = Array.from({ length: size }, () => stream.whole(12));
  const lost = variety.map((group, plant) => {
    const rate = 0.003 * (1 + 0.2 * group) * (1 + 0.05 * block[plant]);
    return Math.ceil(-Math.log(1 - stream.uniform()) / rate);
  });
  const watched = lost.map(() => 60 + stream.whole(141));
  return {
    time: lost.map((day, plant) => Math.min(day, watched[plant])),
    cause: lost.map((day, plant) => (day <= watched[plant] ? 1 + stream.whole(3) : 0)),
    variety,
    block,
  };
}

const followed = plants();

/** Each variety's plants, picked out afresh in every run as R's formula does. */
function byVariety(curve: (times: Float64Array, causes: Uint8Array) => unknown): void {
  const sizes = new Uint32Array(8);
  for (const variety of followed.variety) sizes[variety] += 1;
  const own = Array.from(sizes, (size) => ({
    times: new Float64Array(size),
    causes: new Uint8Array(size),
    size: 0,
  }));
  for (let plant = 0; plant < followed.time.length; plant += 1) {
    const group = own[followed.variety[plant]];
    group.times[group.size] = followed.time[plant];
    group.causes[group.size] = followed.cause[plant];
    group.size += 1;
  }
  for (const { times, causes } of own) curve(times, causes);
}

/** 72 plots: 6 blocks of 3 covers with 4 varieties each. */
function splitPlot() {
  const plots = Array.from({ length: 72 }, (_, at) => ({
    block: `b${Math.floor(at / 12)}`,
    cover: `c${Math.floor(at / 4) % 3}`,
    variety: `v${at % 4}`,
  }));
  const blocks = Array.from({ length: 6 }, () => 3 * normal());
  const mains = Array.from({ length: 18 }, () => 2 * normal());
  return {
    y: plots.map(
      (_, at) => 40 + (at % 4) + blocks[Math.floor(at / 12)] + mains[Math.floor(at / 4)] + 2 * normal(),
    ),
    block: plots.map(({ block }) => block),
    cover: plots.map(({ cover }) => cover),
    variety: plots.map(({ variety }) => variety),
  };
}

/** 4 blocks of 8 varieties, three plots lost. */
function blocksWithGaps() {
  const kept = Array.from({ length: 32 }, (_, at) => at).filter((at) => ![3, 13, 22].includes(at));
  const blocks = Array.from({ length: 4 }, () => 3 * normal());
  return {
    y: kept.map((at) => 30 + (at % 8) + blocks[Math.floor(at / 8)] + 2 * normal()),
    block: kept.map((at) => `b${Math.floor(at / 8)}`),
    variety: kept.map((at) => `v${at % 8}`),
  };
}

/** 24 plots: 6 blocks of 4 varieties, with a yield and 8 plants each. */
function dealt() {
  const plots = Array.from({ length: 24 }, (_, at) => at);
  return {
    y: plots.map((at) => 20 + (at % 4) + Math.floor(at / 4) + 2 * normal()),
    standing: plots.map((at) => 4 + (at % 4) + stream.whole(2)),
    block: plots.map((at) => `b${Math.floor(at / 4)}`),
    variety: plots.map((at) => `v${at % 4}`),
  };
}

const split = splitPlot();
const gaps = blocksWithGaps();
const deals = dealt();
const checkPairs = ["v1", "v2", "v3"].map((variety) => [variety, "v0"] as const);
const places = deals.y.map((value, plot) => ({
  variety: deals.variety[plot],
  block: deals.block[plot],
  row: null,
  column: null,
  setOut: 8,
  standing: deals.standing[plot],
  value,
}));

/** Max-T over the differences to the check, deals drawn within blocks; vectors of four throughout, no formula inside. */
const maxTInR = `
  b <- as.integer(factor(data$block)); v <- as.integer(factor(data$variety)); score <- %STATISTIC%
  seen <- score(v); more <- 0
  for (deal in 1:20000) {
    labels <- v
    for (own in split(seq_along(v), b)) labels[own] <- sample(v[own])
    if (max(score(labels)) >= max(seen)) more <- more + 1
  }
  (more + 1) / 20001`;
const yieldT = `{
    y <- data$y - ave(data$y, b); total <- sum(y^2)
    function(v) { m <- rowsum(y, v)[, 1] / 6; abs(m[-1] - m[1]) / sqrt((total - 6 * sum(m^2)) / 15 / 3) } }`;
const survivalT = `{
    p <- data$standing / 8; y <- p - ave(p, b); total <- sum(y^2)
    function(v) {
      x <- rowsum(data$standing, v)[, 1]; s <- x / 48; a <- (x + 0.5) / 49; u <- a * (1 - a); m <- rowsum(y, v)[, 1] / 6
      spread <- max(1, 8 * (total - 6 * sum(m^2)) / 15 / mean(u))
      abs(s[-1] - s[1]) / sqrt(spread * (u[-1] + u[1]) / 48) } }`;

export const benchCases: BenchCase[] = [
  {
    name: "Kaplan–Meier, 100,000 plants in 8 varieties",
    target: 10,
    limit: null,
    runs: 9,
    data: followed,
    here: () => byVariety((times, causes) => kaplanMeier({ times, causes })),
    r: { packages: ["survival"], call: "survfit(Surv(time, cause > 0) ~ variety, data)" },
  },
  {
    name: "Aalen–Johansen, the same plants, 3 causes",
    target: 20,
    limit: null,
    runs: 9,
    data: followed,
    here: () => byVariety((times, causes) => aalenJohansen({ times, causes }, 3)),
    r: { packages: ["survival"], call: "survfit(Surv(time, factor(cause)) ~ variety, data)" },
  },
  {
    name: "Log-rank, the same plants, within 12 blocks",
    target: 5,
    limit: null,
    runs: 9,
    data: followed,
    here: () =>
      logRank(
        { times: followed.time, causes: followed.cause, groups: followed.variety, blocks: followed.block },
        8,
        "log-rank",
      ),
    r: { packages: ["survival"], call: "survdiff(Surv(time, cause > 0) ~ variety + strata(block), data)" },
  },
  {
    name: "Split plot, 72 plots, REML and Kenward–Roger tests",
    target: 10,
    limit: null,
    runs: 25,
    data: split,
    here() {
      const [block, cover, variety] = (["block", "cover", "variety"] as const).map((name) =>
        factor(name, split[name]),
      );
      const main = crossedFactor("main plot", [block, cover]);
      return mixedModel(
        split.y,
        [cover, variety],
        [["cover"], ["variety"], ["cover", "variety"]],
        [main, block],
      );
    },
    r: {
      packages: ["lmerTest"],
      call: 'anova(lmer(y ~ cover * variety + (1 | block:cover) + (1 | block), data), ddf = "Kenward-Roger")',
    },
  },
  {
    name: "Blocks with three plots missing, REML and Kenward–Roger tests",
    target: 10,
    limit: null,
    runs: 25,
    data: gaps,
    here: () =>
      mixedModel(gaps.y, [factor("variety", gaps.variety)], [["variety"]], [factor("block", gaps.block)]),
    r: {
      packages: ["lmerTest"],
      call: 'anova(lmer(y ~ variety + (1 | block), data), ddf = "Kenward-Roger")',
    },
  },
  {
    name: "The same, blocks fixed: analysis of variance, means, all differences",
    target: 10,
    limit: null,
    runs: 25,
    data: gaps,
    here() {
      const variety = factor("variety", gaps.variety);
      const model = linearModel(gaps.y, [factor("block", gaps.block), variety], [["block"], ["variety"]]);
      return [
        analysisOfVariance(model),
        marginalMeans(model, "variety", 0.95),
        marginalDifferences(model, "variety", allPairs(variety.levels), 0.95),
      ];
    },
    r: {
      packages: ["emmeans"],
      call: `{ model <- lm(y ~ block + variety, data); grid <- emmeans(model, "variety")
        list(anova(model), summary(grid), summary(pairs(grid, adjust = "none"), infer = TRUE)) }`,
    },
  },
  {
    name: "Max-T of yield, 20,000 deals of 24 plots",
    target: 10,
    limit: 0.02,
    runs: 9,
    data: deals,
    here: () => yieldRandomisation(places, "rcbd", checkPairs, "t", 20_000, randomStream(1)),
    r: { packages: [], call: `{${maxTInR.replace("%STATISTIC%", yieldT)} }` },
  },
  {
    name: "Max-T of survival, 20,000 deals of 24 plots",
    target: 10,
    limit: 0.02,
    runs: 9,
    data: deals,
    here: () => survivalRandomisation(places, "rcbd", checkPairs, 20_000, randomStream(1)),
    r: { packages: [], call: `{${maxTInR.replace("%STATISTIC%", survivalT)} }` },
  },
];

/**
 * What the home works out when a trial is looked at after one more fact has come in, but for the p-values that come of
 * dealing the layout again: those are filled in after.
 */
export function findingsCase({ change, ask }: FindingsBench): BenchCase {
  return {
    name: "Findings of 36 plots that 12 walkabouts have seen, record read and worked out anew",
    target: null,
    limit: 0.06,
    runs: 101,
    data: {},
    before: change,
    here: ask,
    r: null,
  };
}
