import { countModel } from "@/lib/statistics/count-model";
import { marginalDifferences, marginalMeans } from "@/lib/statistics/marginal-means";
import type { Day } from "@/lib/words/day";
import { growthStage } from "@/lib/words/growth-stage";
import { firstFlowerStem } from "@/lib/words/trait";
import { cite } from "./cite";
import { withFamilyP } from "./family-p";
import type { CountAnalysis, Finding } from "./finding";
import type { ReadPlot } from "./read-plots";
import { traitPlots } from "./trait-facts";
import type { TrialRecord } from "./trial-record";
import { layoutFactors, type ModelPlot, varietyFactor } from "./yield-model";

/**
 * Counts of every trait that was counted in most plots (flower stems have their own place, and a growth stage is no
 * number of anything), added up over those days and compared as rates: so many times the check's.
 */
export function countFindings(
  record: TrialRecord,
  read: ReadPlot[],
  at: Day | null,
  level: number,
): Finding<CountAnalysis>[] {
  const isCount = (kind: string, trait: string | null) =>
    kind === "count" && trait !== firstFlowerStem && trait !== growthStage;
  return traitPlots(read, at, (fact) => isCount(fact.kind, fact.trait)).flatMap(({ trait, plots, days }) => {
    if (days.length === 0) return [];
    const counted = plots.flatMap(({ plot, byDay }): ModelPlot[] => {
      const totals = days.map((day) => byDay.get(day)?.reduce((sum, count) => sum + count, 0));
      if (totals.some((total) => total === undefined)) return [];
      return [{ plot, response: (totals as number[]).reduce((sum, total) => sum + total, 0) }];
    });
    if (counted.length === 0) return [];
    return [
      {
        value: analysisOf(record, trait, days, counted, level),
        plants: counted.reduce((sum, one) => sum + (one.plot.plants ?? 0), 0),
        plots: counted.length,
        asOf: days.at(-1) ?? null,
        method: {
          name: "quasi-Poisson on the layout’s terms and variety: variance in proportion to the mean, t limits",
          sources: cite("mccullagh-nelder-1989", "holm-1979"),
        },
        scale: "count",
        level,
        cautions: [],
      },
    ];
  });
}

function analysisOf(
  record: TrialRecord,
  trait: string,
  days: Day[],
  counted: ModelPlot[],
  level: number,
): CountAnalysis {
  const isPerPlant = counted.every((one) => one.plot.plants !== null);
  const variety = varietyFactor(counted, record.varieties);
  const variables = [...layoutFactors(counted, record.design), variety];
  const model = countModel(
    {
      counts: counted.map((one) => one.response),
      exposure: counted.map((one) => (isPerPlant ? (one.plot.plants as number) : 1)),
    },
    variables,
    variables.map(({ name }) => [name]),
    "quasi-poisson",
  );
  const raised = (value: number | null) => (value === null ? null : Math.exp(value));
  const { check } = record;
  const pairs =
    check !== null && variety.levels.includes(check)
      ? variety.levels.filter((one) => one !== check).map((one): [string, string] => [one, check])
      : [];
  return {
    trait,
    days,
    per: isPerPlant ? "plant" : "plot",
    dispersion: model.dispersion,
    residualDf: model.residualDf,
    varieties: marginalMeans(model, "variety", level).map(({ level: name, count, estimate, low, high }) => ({
      variety: name,
      plots: count,
      count: counted.filter((one) => one.plot.variety === name).reduce((sum, one) => sum + one.response, 0),
      rate: raised(estimate),
      low: raised(low),
      high: raised(high),
    })),
    differences: withFamilyP(
      marginalDifferences(model, "variety", pairs, level).map(
        ({ level: name, reference, estimate, low, high, p }) => ({
          variety: name,
          reference,
          ratio: raised(estimate),
          low: raised(low),
          high: raised(high),
          p,
        }),
      ),
    ),
  };
}
