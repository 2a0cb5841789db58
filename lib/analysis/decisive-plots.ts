import { effectivePlants } from "@/lib/statistics/effective-plants";
import { newcombeDifference } from "@/lib/statistics/newcombe-difference";
import type { PlotCount } from "@/lib/statistics/plot-count";
import type { Difference } from "./finding";
import { isLookSee, plotCount, survivalLayout } from "./layout";
import type { PlotStand } from "./plot-stand";
import type { TrialRecord } from "./trial-record";

/** A plot without which a difference would read otherwise: clear where it was not, or no longer clear. */
export interface DecisivePlot {
  plot: string;
  variety: string;
  reference: string;
  becomesClear: boolean;
}

function isClear(limits: { low: number | null; high: number | null }): boolean {
  return limits.low !== null && limits.high !== null && (limits.low > 0 || limits.high < 0);
}

/** The plots that alone decide whether a difference is clear, by leaving out each in turn. */
export function decisivePlots(
  record: TrialRecord,
  stands: PlotStand[],
  differences: Difference[],
  level: number,
): DecisivePlot[] {
  // These two judge the clumping otherwise, and a plot left out would change the design.
  if (record.design === "split-plot" || isLookSee(record)) return [];
  const held = stands.filter((stand) => stand.setOut - stand.takenOut > 0);
  const layout = survivalLayout(record);
  const counts = held.map(
    (stand): PlotCount =>
      plotCount(stand.plot, record.design, {
        setOut: stand.setOut - stand.takenOut,
        standing: stand.standing,
      }),
  );
  return held.flatMap((left, place) => {
    const others = counts.filter((_, index) => index !== place);
    if (!others.some((count) => count.variety === left.plot.variety)) return [];
    const { varieties } = effectivePlants(others, layout, level);
    const shareOf = (name: string) => varieties.find((one) => one.variety === name);
    return differences.flatMap((difference): DecisivePlot[] => {
      const [variety, reference] = [shareOf(difference.variety), shareOf(difference.reference)];
      if (variety?.share == null || reference?.share == null) return [];
      if (!variety.effectivePlants || !reference.effectivePlants) return [];
      const limits = newcombeDifference(
        { share: variety.share, plants: variety.effectivePlants },
        { share: reference.share, plants: reference.effectivePlants },
        level,
      );
      if (isClear(limits) === isClear(difference)) return [];
      const { variety: name, reference: other } = difference;
      return [{ plot: left.plot.code, variety: name, reference: other, becomesClear: isClear(limits) }];
    });
  });
}
