import { describe, expect, it } from "vitest";
import { effectiveMainPlots } from "@/lib/statistics/effective-main-plots";
import { effectivePlants } from "@/lib/statistics/effective-plants";
import { floorProbability } from "@/lib/statistics/floor-probability";
import { newcombeDifference } from "@/lib/statistics/newcombe-difference";
import type { Layout, PlotCount } from "@/lib/statistics/plot-count";
import { publishedDesignEffect } from "@/lib/statistics/published-design-effect";
import reference from "./case.json";
import { plainEffectivePlants } from "./plain-twin";

type Column = number[] | string[] | string;
const at = <Cell>(column: Column, index: number): Cell | null =>
  typeof column === "string" ? null : ((column[index] as Cell) ?? null);

function plotsOf(named: (typeof reference.cases)[number]): PlotCount[] {
  return named.variety.map((variety, index) => ({
    variety,
    block:
      typeof named.block === "string" && named.block === "none"
        ? null
        : at<string>(blockColumn(named), index),
    row: at<number>(named.row as Column, index),
    column: at<number>(named.column as Column, index),
    setOut: typeof named.setOut === "number" ? named.setOut : named.setOut[index],
    standing: named.standing[index],
  }));
}

/** R writes a column of one repeated word as that word. */
function blockColumn(named: (typeof reference.cases)[number]): Column {
  return typeof named.block === "string" ? named.variety.map(() => named.block as string) : named.block;
}

const tolerance = reference.tolerance;
// The plain twin, by halving, is within the same tolerance.
const close = (ours: number | null, theirs: number) =>
  expect(Math.abs((ours ?? Number.NaN) - theirs)).toBeLessThan(tolerance * Math.max(1, Math.abs(theirs)));

describe("effectivePlants against its R twin", () => {
  it.each(reference.cases.map((named) => [named.name, named] as const))("%s", (_name, named) => {
    const plots = plotsOf(named);
    const { expected } = named;
    const ours = effectivePlants(plots, named.layout as Layout, 0.95, named.comparisons);
    expect(ours.dispersion.df).toBe(expected.df);
    if (expected.f !== null) {
      close(ours.dispersion.f, expected.f);
      close(ours.dispersion.effectiveDf, expected.effectiveDf);
      close(ours.dispersion.clusterSize, expected.clusterSize);
    }
    close(ours.clumping.mean, expected.icc);
    ours.varieties.forEach((variety, index) => {
      close(variety.multiplier, expected.multiplier[index]);
      close(variety.effectivePlants, expected.effectivePlants[index]);
      close(variety.low, expected.low[index]);
      close(variety.high, expected.high[index]);
      const count = {
        standing: variety.standing,
        setOut: variety.setOut,
        clusterSize: variety.clusterSize ?? 1,
      };
      close(floorProbability(ours.clumping, count, 0.5), expected.floor50[index]);
      close(floorProbability(ours.clumping, count, 0.8), expected.floor80[index]);
    });
    const [first, second] = ours.varieties.map(({ share, effectivePlants: plants }) => ({
      share: share ?? Number.NaN,
      plants: plants ?? Number.NaN,
    }));
    const difference = newcombeDifference(first, second, ours.level);
    [difference.estimate, difference.low, difference.high].forEach((value, index) => {
      close(value, expected.firstLessSecond[index]);
    });
  });

  it.each(reference.cases.map((named) => [named.name, named] as const))("plain twin: %s", (_name, named) => {
    const ours = effectivePlants(plotsOf(named), named.layout as Layout, 0.95, named.comparisons);
    const twin = plainEffectivePlants(plotsOf(named), named.layout as Layout, 0.95, named.comparisons);
    ours.varieties.forEach((variety, index) => {
      close(variety.effectivePlants, twin[index].effectivePlants);
      close(variety.low, twin[index].low);
      close(variety.high, twin[index].high);
    });
  });
});

describe("publishedDesignEffect against R", () => {
  const cases = reference.cases.filter((named) => named.layout === "crd");
  it.each(cases.map((named) => [named.name, named] as const))("%s", (_name, named) => {
    const ours = publishedDesignEffect(plotsOf(named), 0.95);
    const { published } = named;
    if (typeof published === "string") throw new Error("the case holds no published form");
    expect(ours.df).toBe(published.df);
    close(ours.icc, published.icc);
    ours.varieties.forEach((variety, index) => {
      close(variety.low, published.low[index]);
      close(variety.high, published.high[index]);
    });
  });
});

it("effectiveMainPlots agrees with its R twin on covers over three blocks", () => {
  const { expected, ...columns } = reference.mainPlots;
  const plots = columns.variety.map((variety, index) => ({
    variety,
    treatment: columns.cover[index],
    block: columns.block[index],
    mainPlot: `${columns.cover[index]} ${columns.block[index]}`,
    standing: columns.standing[index],
    setOut: columns.setOut[index],
  }));
  const ours = effectiveMainPlots(plots, 0.95);
  expect(ours.dispersion.df).toBe(expected.df);
  close(ours.dispersion.f, expected.f);
  close(ours.dispersion.effectiveDf, expected.effectiveDf);
  close(ours.clumping.mean, expected.icc);
  ours.treatments.forEach((treatment, index) => {
    close(treatment.effectivePlants, expected.effectivePlants[index]);
  });
  const [net, open] = ours.treatments.map(({ share, effectivePlants: plants }) => ({
    share: share ?? Number.NaN,
    plants: plants ?? Number.NaN,
  }));
  const difference = newcombeDifference(net, open, 0.95);
  [difference.estimate, difference.low, difference.high].forEach((value, index) => {
    close(value, expected.firstLessSecond[index]);
  });
});
