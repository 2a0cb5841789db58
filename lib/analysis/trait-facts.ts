import type { Day } from "@/lib/words/day";
import type { Observation } from "@/lib/words/observation";
import type { ReadPlot } from "./read-plots";
import type { RecordPlot } from "./trial-record";

/** One plot's figures of a trait, by day. */
export interface TraitPlot {
  plot: RecordPlot;
  byDay: Map<Day, number[]>;
}

/** The traits that facts of a kind are of, each with its plots and the days on which most plots were judged. */
export function traitPlots(
  read: ReadPlot[],
  at: Day | null,
  wanted: (fact: Observation) => boolean,
): { trait: string; unit: string; plots: TraitPlot[]; days: Day[] }[] {
  const facts = read.flatMap((own) =>
    own.facts
      .filter((fact) => wanted(fact) && fact.trait !== null && fact.amount !== null)
      .filter(
        (fact) => (at === null || fact.seenOn <= at) && (own.outFrom === null || fact.seenOn < own.outFrom),
      ),
  );
  const named = new Map(facts.map((fact) => [`${fact.trait} ${fact.unit}`, fact]));
  return [...named.values()].map(({ trait, unit }) => {
    const plots = read.map(({ plot }): TraitPlot => {
      const byDay = new Map<Day, number[]>();
      for (const fact of facts)
        if (fact.plotId === plot.id && fact.trait === trait && fact.unit === unit)
          byDay.set(fact.seenOn, [...(byDay.get(fact.seenOn) ?? []), fact.amount as number]);
      return { plot, byDay };
    });
    const days = [...new Set(plots.flatMap((one) => [...one.byDay.keys()]))].sort();
    return {
      trait: trait ?? "",
      unit: unit ?? "",
      plots,
      days: days.filter((day) => plots.filter((one) => one.byDay.has(day)).length * 2 > plots.length),
    };
  });
}
