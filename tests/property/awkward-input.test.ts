import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { aalenJohansen } from "@/lib/statistics/aalen-johansen";
import { analysisOfDeviance } from "@/lib/statistics/analysis-of-deviance";
import { analysisOfVariance } from "@/lib/statistics/analysis-of-variance";
import { balancedSplitPlot } from "@/lib/statistics/balanced-split-plot";
import { binomialMixedModel } from "@/lib/statistics/binomial-mixed-model";
import { binomialModel } from "@/lib/statistics/binomial-model";
import { cochranMantelHaenszel } from "@/lib/statistics/cochran-mantel-haenszel";
import { countModel, negativeBinomialModel } from "@/lib/statistics/count-model";
import { coxRatio, coxRatios } from "@/lib/statistics/cox-ratios";
import { discreteHazard } from "@/lib/statistics/discrete-hazard";
import { dunnett } from "@/lib/statistics/dunnett";
import { effectiveMainPlots } from "@/lib/statistics/effective-main-plots";
import { effectivePlants } from "@/lib/statistics/effective-plants";
import { type Factor, factor } from "@/lib/statistics/factor";
import {
  fiellerFloorProbability,
  fiellerRatio,
  pairedMeans,
  unpairedMeans,
} from "@/lib/statistics/fieller-ratio";
import { firthContrast, firthLogistic } from "@/lib/statistics/firth-logistic";
import { fisherExact } from "@/lib/statistics/fisher-exact";
import { floorProbability } from "@/lib/statistics/floor-probability";
import { friedmanTest } from "@/lib/statistics/friedman-test";
import { gamesHowell } from "@/lib/statistics/games-howell";
import { germination } from "@/lib/statistics/germination";
import { kaplanMeier } from "@/lib/statistics/kaplan-meier";
import { kaplanMeierLimits } from "@/lib/statistics/kaplan-meier-limits";
import { kruskalWallis } from "@/lib/statistics/kruskal-wallis";
import { leveneTest } from "@/lib/statistics/levene-test";
import { lifeTable } from "@/lib/statistics/life-table";
import { linearModel } from "@/lib/statistics/linear-model";
import { logRank } from "@/lib/statistics/log-rank";
import { logRankRandomisation } from "@/lib/statistics/log-rank-randomisation";
import { logRatioFloorProbability } from "@/lib/statistics/log-ratio-floor-probability";
import { logRatios } from "@/lib/statistics/log-ratios";
import { lookSeeBed } from "@/lib/statistics/look-see-bed";
import { mantelHaenszelDifference } from "@/lib/statistics/mantel-haenszel-difference";
import { mantelHaenszelOddsRatio } from "@/lib/statistics/mantel-haenszel-odds-ratio";
import { allPairs, differenceRow, marginalDifferences, marginalMeans } from "@/lib/statistics/marginal-means";
import { miettinenNurminenDifference } from "@/lib/statistics/miettinen-nurminen-difference";
import { mixedModel } from "@/lib/statistics/mixed-model";
import { newcombeDifference } from "@/lib/statistics/newcombe-difference";
import { plotsToSettle } from "@/lib/statistics/plots-to-settle";
import { pooledContrast } from "@/lib/statistics/pooled-contrast";
import { pooledSurvival } from "@/lib/statistics/pooled-survival";
import { probabilityOfSuperiority } from "@/lib/statistics/probability-of-superiority";
import { publishedDesignEffect } from "@/lib/statistics/published-design-effect";
import { randomEffects } from "@/lib/statistics/random-effects";
import { randomStream } from "@/lib/statistics/random-stream";
import { relativeEfficiency } from "@/lib/statistics/relative-efficiency";
import { restrictedMean } from "@/lib/statistics/restricted-mean";
import { type FollowedPlot, standingLimits } from "@/lib/statistics/standing-limits";
import { survivalRandomisation } from "@/lib/statistics/survival-randomisation";
import { tukeyKramer } from "@/lib/statistics/tukey-kramer";
import { tukeyOneDf } from "@/lib/statistics/tukey-one-df";
import { turnbull } from "@/lib/statistics/turnbull";
import { vanElteren } from "@/lib/statistics/van-elteren";
import { welchTest } from "@/lib/statistics/welch-test";
import { williamsWeights } from "@/lib/statistics/williams-weights";
import { yieldRandomisation } from "@/lib/statistics/yield-randomisation";

/** Where in a result a number is NaN or endless. Design matrices and functions are inside, not answers. */
function unsayable(value: unknown, path = ""): string[] {
  if (typeof value === "number") return Number.isFinite(value) ? [] : [`${path} ${value}`];
  if (value === null || typeof value !== "object") return [];
  const entries = value instanceof Map ? [...value] : Object.entries(value);
  return (
    entries
      // Endless df stand for a known dispersion: the normal distribution.
      .filter(
        ([name, part]) => name !== "design" && !(name.startsWith("df") && part === Number.POSITIVE_INFINITY),
      )
      .flatMap(([name, part]) => unsayable(part, `${path}.${name}`))
  );
}

/** Legal input gets finite numbers or null, or is refused in the one grammar of refusals. */
function holds(name: string, run: () => unknown): void {
  let result: unknown;
  try {
    result = run();
  } catch (error) {
    if (error instanceof RangeError && / requires .*; got /s.test(error.message)) return;
    throw new Error(`${name} threw ${error instanceof Error ? error.stack : error}`);
  }
  const found = unsayable(result);
  if (found.length > 0) throw new Error(`${name} gave ${found.slice(0, 5).join(", ")}`);
}

interface Trial {
  variety: string[];
  block: string[];
  setOut: number[];
  standing: number[];
  yields: number[];
}

type Losses = "all lost" | "none lost" | "mixed";
type Yields = "identical" | "nothing" | "one huge" | "mixed" | "tiny";

/** Varieties × blocks in which cells may be missing and everything may go one way. */
const awkward = fc
  .record({
    varieties: fc.oneof({ weight: 8, arbitrary: fc.integer({ min: 2, max: 5 }) }, fc.constant(60)),
    blocks: fc.integer({ min: 1, max: 4 }),
    losses: fc.constantFrom<Losses>("all lost", "none lost", "mixed"),
    yields: fc.constantFrom<Yields>("identical", "nothing", "one huge", "mixed", "tiny"),
    missing: fc.constantFrom(0, 0.3),
    empty: fc.constantFrom(0, 0.3),
    isCollinear: fc.boolean(),
    seed: fc.integer({ min: 1, max: 1e6 }),
  })
  .map(({ varieties, blocks, losses, yields, missing, empty, isCollinear, seed }): Trial => {
    const stream = randomStream(seed);
    const trial: Trial = { variety: [], block: [], setOut: [], standing: [], yields: [] };
    for (let block = 0; block < blocks; block += 1)
      for (let variety = 0; variety < varieties; variety += 1) {
        if (stream.uniform() < missing && trial.variety.length > 1) continue;
        const setOut = stream.uniform() < empty ? 0 : 1 + stream.whole(9);
        const standing = losses === "mixed" ? stream.whole(setOut + 1) : losses === "all lost" ? 0 : setOut;
        const mixed = stream.uniform() < 0.15 ? 0 : 500 * stream.uniform();
        trial.variety.push(`v${variety}`);
        trial.block.push(isCollinear ? `b${variety}` : `b${block}`);
        trial.setOut.push(setOut);
        trial.standing.push(standing);
        trial.yields.push(
          { identical: 7.3, nothing: 0, "one huge": mixed, mixed, tiny: mixed * 1e-12 }[yields],
        );
      }
    if (yields === "one huge") trial.yields[0] = 1e9;
    return trial;
  });

const settings = { seed: 20_261_125, numRuns: 60 };
const levels = (names: string[]) => [...new Set(names)];
const groupsOf = ({ variety, yields }: Trial) =>
  levels(variety).map((one) => yields.filter((_, plot) => variety[plot] === one));

function factorsOf(trial: Trial): { variety: Factor; block: Factor } {
  return { variety: factor("variety", trial.variety), block: factor("block", trial.block) };
}

function plotsOf({ variety, block, setOut, standing, yields }: Trial) {
  return variety.map((one, plot) => ({
    variety: one,
    block: block[plot],
    row: null,
    column: null,
    setOut: setOut[plot],
    standing: standing[plot],
    value: yields[plot],
  }));
}

describe("legal input, however awkward, gives numbers, null or a refusal in our words", () => {
  it("survival at a date", () => {
    fc.assert(
      fc.property(awkward, (trial) => {
        const plots = plotsOf(trial);
        const names = levels(trial.variety);
        for (const layout of ["crd", "rcbd"] as const) {
          holds("effectivePlants", () => effectivePlants(plots, layout, 0.95, Math.max(1, names.length - 1)));
          if (names.length > 1 && plots.length < 9)
            holds("survivalRandomisation", () =>
              survivalRandomisation(plots, layout, [[names[1], names[0]]], 20, randomStream(1)),
            );
        }
        const fit = effectivePlants(plots, "rcbd", 0.95);
        holds("publishedDesignEffect", () => publishedDesignEffect(plots, 0.95));
        for (const one of fit.varieties.slice(0, 2)) {
          if (one.share === null || one.effectivePlants === null || one.clusterSize === null) continue;
          const count = { standing: one.standing, setOut: one.setOut, clusterSize: one.clusterSize };
          holds("floorProbability", () => floorProbability(fit.clumping, count, 0.8));
          const weighed = { share: one.share, plants: one.effectivePlants };
          holds("newcombeDifference", () => newcombeDifference(weighed, { share: 0, plants: 3 }, 0.95));
          if (names.length < 4)
            holds("plotsToSettle", () =>
              plotsToSettle(fit.clumping, count, { floor: 0.8, meetAt: 0.8, missAt: 0.1 }, 8, 12),
            );
        }
        holds("effectiveMainPlots", () =>
          effectiveMainPlots(
            plots.map((plot, at) => ({
              ...plot,
              treatment: at % 2 ? "fleece" : "none",
              mainPlot: `${plot.block} ${at % 2}`,
            })),
            0.95,
          ),
        );
        holds("lookSeeBed", () =>
          lookSeeBed(
            plots.map((plot, at) => ({
              ...plot,
              plot: `${at}`,
              variety: at % 3 ? `e${at}` : "check",
              isCheck: at % 3 === 0,
              x: at,
              y: 0,
            })),
            0.95,
          ),
        );
      }),
      settings,
    );
  });

  it("survival over winters", () => {
    const winter = fc
      .record({
        effectivePlants: fc.double({ min: 0.5, max: 400, noNaN: true }),
        share: fc.constantFrom(0, 0.4, 1),
      })
      .map(({ effectivePlants: plants, share }) => ({ standing: share * plants, effectivePlants: plants }));
    fc.assert(
      fc.property(fc.array(winter, { minLength: 1, maxLength: 4 }), (winters) =>
        holds("pooledSurvival", () => pooledSurvival(winters, 1, 0.8, 0.95)),
      ),
      { ...settings, numRuns: 8 },
    );
  });

  it("two varieties' plants, and strata of them", () => {
    fc.assert(
      fc.property(awkward, (trial) => {
        const counts = trial.setOut.map((setOut, plot) => ({ standing: trial.standing[plot], setOut }));
        const strata = counts.slice(1).map((a, at) => ({ a, b: counts[at] }));
        for (const { a, b } of strata.slice(0, 8)) {
          holds("miettinenNurminenDifference", () => miettinenNurminenDifference(a, b, 0.95));
          // An odds ratio may be endless, and is said to be.
          holds("fisherExact", () => {
            const { oddsRatio, high, ...others } = fisherExact(a, b, 0.95);
            return [others, Number.isNaN(oddsRatio), Number.isNaN(high)].map((one) =>
              one === true ? Number.NaN : one,
            );
          });
        }
        holds("mantelHaenszelDifference", () => mantelHaenszelDifference(strata, 0.95));
        holds("mantelHaenszelOddsRatio", () => mantelHaenszelOddsRatio(strata, 0.95));
        holds("cochranMantelHaenszel", () => cochranMantelHaenszel(strata, true));
      }),
      settings,
    );
  });

  it("models of shares and counts", () => {
    fc.assert(
      fc.property(awkward, (trial) => {
        if (trial.variety.length > 60) return;
        const { variety, block } = factorsOf(trial);
        const terms = [["block"], ["variety"]];
        const rows = { hits: trial.standing, setOut: trial.setOut };
        for (const link of ["logit", "cloglog"] as const) {
          holds("binomialModel", () => binomialModel(rows, [block, variety], terms, "pearson", link));
          holds("binomialModel means", () =>
            marginalMeans(binomialModel(rows, [block, variety], terms, "pearson", link), "variety", 0.95),
          );
        }
        holds("analysisOfDeviance", () =>
          analysisOfDeviance((some) => binomialModel(rows, [block, variety], some, "pearson"), terms),
        );
        holds("williamsWeights", () => williamsWeights(rows, [block, variety], terms));
        if (variety.levels.length > 1 && variety.levels.length < 6) {
          holds("firthLogistic", () => {
            const model = firthLogistic(rows, [block, variety], terms);
            const [one, other] = variety.levels;
            return [model, firthContrast(model, differenceRow(model, "variety", other, one), 0.95)];
          });
          holds("binomialMixedModel", () => binomialMixedModel(rows, [variety], [["variety"]], block));
        }
        const counted = {
          counts: trial.standing,
          exposure: trial.setOut.map((plants) => Math.max(1, plants)),
        };
        holds("countModel", () => {
          const model = countModel(counted, [block, variety], terms, "quasi-poisson");
          return [
            model,
            marginalMeans(model, "variety", 0.95),
            marginalDifferences(model, "variety", allPairs(variety.levels).slice(0, 9), 0.95),
          ];
        });
        if (variety.levels.length < 6)
          holds("negativeBinomialModel", () => negativeBinomialModel(counted, [block, variety], terms));
      }),
      settings,
    );
  });

  it("models of yield", () => {
    fc.assert(
      fc.property(awkward, (trial) => {
        const { variety, block } = factorsOf(trial);
        const terms = [["block"], ["variety"]];
        holds("linearModel", () => {
          const model = linearModel(trial.yields, [block, variety], terms);
          const pairs = allPairs(variety.levels).slice(0, 30);
          return [
            model,
            analysisOfVariance(model),
            marginalMeans(model, "variety", 0.95),
            pairs.length === 0
              ? []
              : tukeyKramer(marginalDifferences(model, "variety", pairs, 0.95), variety.levels.length, 0.95),
            tukeyOneDf(model),
            relativeEfficiency(model),
          ];
        });
        holds("type III", () =>
          analysisOfVariance(linearModel(trial.yields, [block, variety], terms, "sum"), "type III"),
        );
        const [check] = variety.levels;
        holds("dunnett", () =>
          dunnett(
            linearModel(trial.yields, [block, variety], terms),
            "variety",
            check,
            0.95,
            randomStream(1),
          ),
        );
        holds("logRatios", () => {
          const found = logRatios(trial.yields, variety, [block], check, 0.95);
          return [found, found.ratios.map(({ log }) => logRatioFloorProbability(log, 0.9))];
        });
        if (variety.levels.length < 6) {
          holds("mixedModel", () => {
            const model = mixedModel(trial.yields, [variety], [["variety"]], [block]);
            return [model.components, model.tests, model.predictions, marginalMeans(model, "variety", 0.95)];
          });
          holds("balancedSplitPlot", () => {
            const found = balancedSplitPlot(
              trial.yields,
              block,
              factor(
                "cover",
                trial.variety.map((one) => (one < "v2" ? "a" : "b")),
              ),
              variety,
            );
            return found && [found.strata, found.tests, found.components];
          });
        }
        holds("yieldRandomisation", () =>
          variety.levels.length > 1
            ? yieldRandomisation(
                plotsOf(trial),
                "rcbd",
                [[variety.levels[1], check]],
                "t",
                20,
                randomStream(1),
              )
            : null,
        );
      }),
      settings,
    );
  });

  it("groups of values", () => {
    fc.assert(
      fc.property(awkward, (trial) => {
        const groups = groupsOf(trial);
        holds("welchTest", () => welchTest(groups));
        holds("leveneTest", () => leveneTest(groups));
        holds("kruskalWallis", () => kruskalWallis(groups));
        if (groups.length < 8)
          holds("gamesHowell", () =>
            gamesHowell(
              groups.map((values, at) => ({ level: `${at}`, values })),
              0.95,
            ),
          );
        const [first, second] = groups;
        const shortest = Math.min(...groups.map((values) => values.length));
        holds("friedmanTest", () =>
          friedmanTest(Array.from({ length: shortest }, (_, at) => groups.map((values) => values[at]))),
        );
        if (second) {
          holds("probabilityOfSuperiority", () => probabilityOfSuperiority(second, first, 0.95));
          const both = Math.min(first.length, second.length);
          for (const means of [
            () => pairedMeans(second.slice(0, both), first.slice(0, both)),
            () => unpairedMeans(second, first),
          ])
            holds("fieller", () => [fiellerRatio(means(), 0.95), fiellerFloorProbability(means(), 0.9)]);
        }
        holds("vanElteren", () =>
          vanElteren(
            trial.yields.map((score, plot) => ({
              score,
              isVariety: trial.variety[plot] === "v0",
              block: trial.block[plot],
            })),
          ),
        );
        const winters = trial.yields
          .slice(0, 5)
          .map((estimate, at) => ({ estimate: estimate / 100, se: 0.1 + (at % 3) }));
        holds("randomEffects", () => randomEffects(winters, 0.95));
        holds("pooledContrast", () =>
          pooledContrast(
            winters.map((one) => ({ ...one, estimate: Math.min(50, one.estimate) })),
            0.5,
            0,
            0.95,
          ),
        );
        holds("germination", () =>
          germination(
            trial.standing.map((newly, day) => ({ day, newly })),
            Math.max(
              1,
              trial.setOut.reduce((sum, one) => sum + one, 0),
            ),
            0.95,
          ),
        );
      }),
      settings,
    );
  });

  it("standing over time", () => {
    fc.assert(
      fc.property(awkward, fc.integer({ min: 1, max: 1e6 }), (trial, seed) => {
        if (trial.variety.length > 60) return;
        const stream = randomStream(seed);
        const plots = trial.variety.map((variety, plot): FollowedPlot => {
          const causes = Array.from({ length: trial.setOut[plot] }, (_, plant) =>
            plant < trial.standing[plot] ? 0 : 1 + stream.whole(2),
          );
          return {
            variety,
            block: trial.block[plot],
            row: null,
            column: null,
            causes,
            times: causes.map(() => stream.whole(5)),
          };
        });
        const all = {
          times: plots.flatMap(({ times }) => Array.from(times)),
          causes: plots.flatMap(({ causes }) => Array.from(causes)),
        };
        const names = levels(trial.variety);
        const grouped = {
          ...all,
          groups: plots.flatMap(({ variety, times }) => Array.from(times).map(() => names.indexOf(variety))),
          blocks: plots.flatMap(({ block, times }) => Array.from(times).map(() => Number(block?.slice(1)))),
        };
        for (const layout of ["crd", "rcbd"] as const)
          holds("standingLimits", () =>
            standingLimits(plots, layout, [0, 2, 4, 9], 0.95).varieties.map(({ steps }) => steps),
          );
        holds("kaplanMeier", () => {
          const curve = kaplanMeier(all);
          return [
            curve,
            kaplanMeierLimits(curve, "log–log", 0.95),
            kaplanMeierLimits(curve, "plain", 0.95),
            restrictedMean(curve, 4),
          ];
        });
        holds("aalenJohansen", () => aalenJohansen(all, 2));
        holds("lifeTable", () => lifeTable(all, [1, 2, 5]));
        holds("turnbull", () =>
          turnbull(
            Array.from(all.times, (time, plant) => ({
              left: time,
              right: all.causes[plant] ? time + stream.whole(3) : Number.POSITIVE_INFINITY,
              plants: 1,
            })),
          ).stretches.map(({ mass, shareAfter }) => [mass, shareAfter]),
        );
        holds("logRank", () => logRank(grouped, names.length, "log-rank"));
        holds("coxRatios", () => {
          const fit = coxRatios(grouped, names.length);
          return [fit.likelihoodRatio, names.length > 1 ? coxRatio(fit, 1, 0, 0.95) : null];
        });
        if (names.length > 1)
          holds("logRankRandomisation", () =>
            logRankRandomisation(plots, "rcbd", [[names[1], names[0]]], "log-rank", 20, randomStream(1)),
          );
        holds("discreteHazard", () =>
          discreteHazard(
            trial.variety.flatMap((group, plot) =>
              [0, 1].map((period) => ({
                period,
                group,
                block: trial.block[plot],
                atRisk: trial.setOut[plot],
                lost: period ? 0 : trial.setOut[plot] - trial.standing[plot],
              })),
            ),
            0.95,
          ),
        );
      }),
      settings,
    );
  });
  it("and none of this is empty talk: an unsayable number is found", () => {
    expect(unsayable({ a: [1, Number.NaN], b: { c: Number.POSITIVE_INFINITY } })).toEqual([
      ".a.1 NaN",
      ".b.c Infinity",
    ]);
  });
});
