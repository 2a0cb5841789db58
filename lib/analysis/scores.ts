import { median } from "simple-statistics";
import { probabilityOfSuperiority } from "@/lib/statistics/probability-of-superiority";
import { progressCurveArea } from "@/lib/statistics/progress-curve-area";
import { vanElteren } from "@/lib/statistics/van-elteren";
import { type Day, daysBetween } from "@/lib/words/day";
import { cite } from "./cite";
import { withFamilyP } from "./family-p";
import type { Finding, ScoreAnalysis } from "./finding";
import { fitYield } from "./fit-yield";
import { neighbourhood } from "./layout";
import type { ReadPlot } from "./read-plots";
import { type TraitPlot, traitPlots } from "./trait-facts";
import type { TrialRecord } from "./trial-record";
import type { ModelPlot } from "./yield-model";

/**
 * Scores of every trait on the last day on which most plots were scored: medians, and against the check how often a
 * plot of the variety scores higher. A trait scored on several days is also summed up as the area under its curve.
 */
export function scoreFindings(
  record: TrialRecord,
  read: ReadPlot[],
  at: Day | null,
  level: number,
): Finding<ScoreAnalysis>[] {
  return traitPlots(read, at, (fact) => fact.kind === "score").flatMap(({ trait, unit, plots, days }) => {
    const day = days.at(-1);
    if (!day) return [];
    const scored = plots.flatMap((one) => {
      const own = one.byDay.get(day);
      return own ? [{ plot: one.plot, score: median(own) }] : [];
    });
    const of = (variety: string) => scored.filter((one) => one.plot.variety === variety);
    const present = record.varieties.filter((variety) => of(variety).length > 0);
    const { check } = record;
    const compared = check !== null && present.includes(check) ? present.filter((one) => one !== check) : [];
    return [
      {
        value: {
          trait,
          unit: unit === "percent" ? ("percent" as const) : ("score" as const),
          day,
          varieties: present.map((variety) => {
            const scores = of(variety).map((one) => one.score);
            return {
              variety,
              plots: scores.length,
              median: median(scores),
              lowest: Math.min(...scores),
              highest: Math.max(...scores),
            };
          }),
          differences: withFamilyP(
            compared.map((variety) => {
              const pair = [...of(variety), ...of(check as string)];
              const test = vanElteren(
                pair.map(({ plot, score }) => ({
                  score,
                  isVariety: plot.variety === variety,
                  block: neighbourhood(plot, record.design) ?? "",
                })),
              );
              const superiority = probabilityOfSuperiority(
                of(variety).map((one) => one.score),
                of(check as string).map((one) => one.score),
                level,
              );
              return {
                variety,
                reference: check as string,
                superiority: superiority.estimate,
                low: superiority.low,
                high: superiority.high,
                z: test.z,
                p: test.p,
              };
            }),
          ),
          progress: progressOf(record, plots, days, level),
        },
        plants: scored.reduce((sum, one) => sum + (one.plot.plants ?? 0), 0),
        plots: scored.length,
        asOf: day,
        method: {
          name: "van Elteren’s test by plot, and how often a plot of the variety scores higher",
          sources: cite(
            "van-elteren-1960",
            "brunner-munzel-2000",
            "newcombe-2006",
            "holm-1979",
            "shaner-finney-1977",
          ),
        },
        scale: unit === "percent" ? "percent of the leaf area" : "score, 0 to 9",
        level,
        cautions: [],
      },
    ];
  });
}

/** The area under each plot's curve, analysed as yield; null with one day, or where no plot was scored on all days. */
function progressOf(
  record: TrialRecord,
  plots: TraitPlot[],
  days: Day[],
  level: number,
): ScoreAnalysis["progress"] {
  if (days.length < 2) return null;
  const areas = plots.flatMap(({ plot, byDay }): ModelPlot[] => {
    const scores = days.flatMap((day) => {
      const own = byDay.get(day);
      return own ? [{ day: daysBetween(days[0], day), score: median(own) }] : [];
    });
    if (scores.length < days.length) return [];
    const area = progressCurveArea(scores, "trapezoid");
    return area === null ? [] : [{ plot, response: area }];
  });
  if (areas.length === 0) return null;
  const { means, differences } = fitYield(record, areas, level);
  return { days, varieties: means, differences };
}
