import type { Day } from "@/lib/words/day";
import { firstFlowerStem } from "@/lib/words/trait";
import type { BoltingOfVariety, Finding } from "./finding";
import type { ReadPlot } from "./read-plots";
import type { TrialRecord } from "./trial-record";

/**
 * When each variety ran up to flower. Bolting is the natural end of an overwintered leaf crop, not a loss; before the
 * day on which the bed is wanted it is *early*, and a fault. Null when nobody counted flower stems.
 */
export function boltingFinding(
  record: TrialRecord,
  plots: ReadPlot[],
  asOf: Day | null,
): Finding<BoltingOfVariety[]> | null {
  const firstStems = plots.flatMap(({ plot, facts }) => {
    const first = facts.find(
      (fact) =>
        fact.kind === "count" &&
        fact.trait === firstFlowerStem &&
        (fact.amount ?? 0) > 0 &&
        (asOf === null || fact.seenOn <= asOf),
    );
    return first ? [{ variety: plot.variety, day: first.seenOn }] : [];
  });
  if (firstStems.length === 0) return null;
  const { clearBy } = record;
  return {
    value: record.varieties.map((variety) => {
      const days = firstStems.filter((stem) => stem.variety === variety).map((stem) => stem.day);
      return {
        variety,
        plots: plots.filter((read) => read.plot.variety === variety).length,
        plotsBolted: days.length,
        firstOn: days.sort()[0] ?? null,
        boltedEarly: clearBy === null ? 0 : days.filter((day) => day < clearBy).length,
      };
    }),
    plants: plots.reduce((sum, read) => sum + (read.plot.plants ?? 0), 0),
    plots: plots.length,
    asOf,
    method: { name: "first day on which a flower stem was counted", sources: [] },
    scale: "day of the first flower stem",
    level: 1,
    cautions: [],
  };
}
