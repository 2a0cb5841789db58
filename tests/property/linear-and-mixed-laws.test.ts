import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { balancedSplitPlot } from "@/lib/statistics/balanced-split-plot";
import { dunnett } from "@/lib/statistics/dunnett";
import { crossedFactor, factor } from "@/lib/statistics/factor";
import { type FittedModel, linearModel } from "@/lib/statistics/linear-model";
import {
  allPairs,
  type MarginalDifference,
  marginalDifferences,
  marginalMeans,
} from "@/lib/statistics/marginal-means";
import { mixedModel } from "@/lib/statistics/mixed-model";
import { randomStream } from "@/lib/statistics/random-stream";
import { tukeyKramer } from "@/lib/statistics/tukey-kramer";

const settings = { seed: 20_261_125, numRuns: 40 };

interface Plot {
  block: string;
  cover: string;
  variety: string;
  y: number;
}

/** A split plot of random size and yields, with some plots taken out. */
const splitPlots = fc
  .record({
    blocks: fc.integer({ min: 2, max: 5 }),
    covers: fc.integer({ min: 2, max: 3 }),
    varieties: fc.integer({ min: 2, max: 4 }),
    yields: fc.array(fc.integer({ min: 0, max: 4000 }), { minLength: 60, maxLength: 60 }),
    gone: fc.array(fc.nat(59), { maxLength: 3 }),
  })
  .map(({ blocks, covers, varieties, yields, gone }) => {
    const plots: Plot[] = [];
    for (let block = 0; block < blocks; block += 1)
      for (let cover = 0; cover < covers; cover += 1)
        for (let variety = 0; variety < varieties; variety += 1)
          plots.push({
            block: `b${block}`,
            cover: `c${cover}`,
            variety: `v${variety}`,
            y: yields[plots.length] / 8 + 100 * block,
          });
    return { whole: plots, plots: plots.filter((_, place) => !gone.includes(place)) };
  });

const named = (plots: readonly Plot[], name: "block" | "cover" | "variety", levels?: string[]) =>
  factor(
    name,
    plots.map((plot) => plot[name]),
    levels,
  );
const yields = (plots: readonly Plot[]) => plots.map(({ y }) => y);
const covered = [["cover"], ["variety"], ["cover", "variety"]];

function mixed(plots: readonly Plot[]) {
  const block = named(plots, "block");
  const cover = named(plots, "cover");
  return mixedModel(yields(plots), [cover, named(plots, "variety")], covered, [
    crossedFactor("main plot", [block, cover]),
    block,
  ]);
}

function blocked(plots: readonly Plot[]) {
  return linearModel(
    yields(plots),
    [named(plots, "block"), named(plots, "variety")],
    [["block"], ["variety"]],
  );
}

function close(one: number | null, other: number | null, tolerance = 1e-6) {
  if (one === null || other === null) expect(one).toBe(other);
  else
    expect(Math.abs(one - other)).toBeLessThanOrEqual(
      tolerance * Math.max(1, Math.abs(one), Math.abs(other)),
    );
}

const byPair = (model: FittedModel, varieties: readonly string[]) =>
  new Map(
    marginalDifferences(model, "variety", allPairs([...varieties].sort()), 0.95).map((one) => [
      `${one.level} ${one.reference}`,
      one,
    ]),
  );

function sameDifferences(one: Map<string, MarginalDifference>, other: Map<string, MarginalDifference>) {
  for (const [pair, left] of one) {
    const right = other.get(pair);
    expect(right?.reason).toBe(left.reason);
    for (const part of ["estimate", "se", "df", "low", "high"] as const)
      close(left[part], right?.[part] ?? null);
  }
}

describe("linear and mixed models", () => {
  it.each([
    ["linear", blocked],
    ["mixed", mixed],
  ] as const)("%s: the order of plots changes nothing", (_name, modelled) => {
    fc.assert(
      fc.property(splitPlots, fc.infiniteStream(fc.nat()), ({ plots }, keys) => {
        const shuffled = plots
          .map((plot) => ({ plot, key: keys.next().value as number }))
          .sort((a, b) => a.key - b.key)
          .map(({ plot }) => plot);
        const varieties = [...new Set(plots.map(({ variety }) => variety))];
        sameDifferences(byPair(modelled(plots), varieties), byPair(modelled(shuffled), varieties));
      }),
      settings,
    );
  });

  it.each([
    ["linear", blocked],
    ["mixed", mixed],
  ] as const)("%s: new names for blocks, covers and varieties change nothing", (_name, modelled) => {
    fc.assert(
      fc.property(splitPlots, ({ plots }) => {
        const renamed = plots.map((plot) => ({
          ...plot,
          block: `z${9 - Number(plot.block.slice(1))}`,
          cover: `y${9 - Number(plot.cover.slice(1))}`,
        }));
        const varieties = [...new Set(plots.map(({ variety }) => variety))];
        sameDifferences(byPair(modelled(plots), varieties), byPair(modelled(renamed), varieties));
      }),
      settings,
    );
  });

  it("yields in another unit, or all more by as much, scale and shift what is said of them", () => {
    fc.assert(
      fc.property(splitPlots, fc.constantFrom(1 / 128, 1024), ({ plots }, unit) => {
        const model = mixed(plots);
        const other = mixed(plots.map((plot) => ({ ...plot, y: (plot.y + 512) * unit })));
        for (const [place, component] of model.components.entries()) {
          const scaled = other.components[place];
          expect(scaled.reason).toBe(component.reason);
          close(component.estimate, scaled.estimate === null ? null : scaled.estimate / unit ** 2, 1e-5);
        }
        const means = marginalMeans(other, "variety", 0.95);
        for (const [place, mean] of marginalMeans(model, "variety", 0.95).entries()) {
          close(mean.estimate, means[place].estimate === null ? null : means[place].estimate / unit - 512);
          close(mean.df, means[place].df, 1e-5);
        }
      }),
      settings,
    );
  });

  it("limits hold their estimate", () => {
    fc.assert(
      fc.property(splitPlots, ({ plots }) => {
        for (const { estimate, low, high, p } of marginalMeans(mixed(plots), "variety", 0.95)) {
          if (estimate === null || low === null || high === null) continue;
          expect(low).toBeLessThanOrEqual(estimate);
          expect(high).toBeGreaterThanOrEqual(estimate);
          expect(p).toBeGreaterThanOrEqual(0);
          expect(p).toBeLessThanOrEqual(1);
        }
      }),
      settings,
    );
  });

  it("REML with Kenward–Roger on whole blocks is the analysis of variance, wherever no variance is at zero", () => {
    fc.assert(
      fc.property(splitPlots, ({ whole }) => {
        const plots = whole.filter(({ cover }) => cover === "c0");
        const fixed = blocked(plots);
        const random = mixedModel(
          yields(plots),
          [named(plots, "variety")],
          [["variety"]],
          [named(plots, "block")],
        );
        fc.pre(random.components[0].reason === null);
        const varieties = [...new Set(plots.map(({ variety }) => variety))];
        sameDifferences(byPair(fixed, varieties), byPair(random, varieties));
        close(random.components[1].estimate, fixed.residualMs, 1e-7);
      }),
      settings,
    );
  });

  it("REML with Kenward–Roger on a whole split plot is its analysis by strata, wherever no variance is at zero", () => {
    fc.assert(
      fc.property(splitPlots, ({ whole }) => {
        const model = mixed(whole);
        fc.pre(model.components.every(({ reason }) => reason === null));
        const strata = balancedSplitPlot(
          yields(whole),
          named(whole, "block"),
          named(whole, "cover"),
          named(whole, "variety"),
        );
        for (const [place, test] of model.tests.entries()) {
          close(test.f, strata?.tests[place].f ?? null);
          close(test.df2, strata?.tests[place].df2 ?? null);
        }
        for (const name of ["cover", "variety"]) {
          if (strata === null) continue;
          const other = marginalMeans(strata, name, 0.95);
          for (const [place, mean] of marginalMeans(model, name, 0.95).entries())
            for (const part of ["estimate", "se", "df"] as const) close(mean[part], other[place][part]);
        }
      }),
      settings,
    );
  });
});

describe("multiple comparisons", () => {
  it("plain t is narrowest, Dunnett next, Tukey widest; and no p falls by adjusting", () => {
    fc.assert(
      fc.property(splitPlots, ({ whole }) => {
        const plots = whole.filter(({ cover }) => cover === "c0");
        const model = blocked(plots);
        const [check, ...others] = [...new Set(plots.map(({ variety }) => variety))];
        fc.pre(others.length > 1);
        const pairs = others.map((one) => [one, check] as const);
        const plain = marginalDifferences(model, "variety", pairs, 0.95);
        fc.pre(plain.every(({ reason }) => reason === null));
        const against = dunnett(model, "variety", check, 0.95, randomStream(1));
        const among = tukeyKramer(plain, others.length + 1, 0.95);
        for (const [place, { low, p }] of plain.entries()) {
          expect(against[place].low as number).toBeLessThan(low as number);
          expect(among[place].low as number).toBeLessThan(against[place].low as number);
          expect(against[place].p as number).toBeGreaterThanOrEqual((p as number) - 1e-12);
          expect(among[place].p as number).toBeGreaterThanOrEqual((against[place].p as number) - 1e-12);
        }
      }),
      settings,
    );
  });
});
