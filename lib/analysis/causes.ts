import { aalenJohansen } from "@/lib/statistics/aalen-johansen";
import { type Day, daysBetween } from "@/lib/words/day";
import { cite } from "./cite";
import type { CauseCurve, Finding } from "./finding";
import { firstDay, followedPlot } from "./followed-plot";
import type { PlotStand } from "./plot-stand";
import type { TrialRecord } from "./trial-record";

/**
 * The share of each variety's plants lost to each cause by every look at which it took some: what was taken to one
 * cause cannot be taken to another, and plants harvested whole are out of the reckoning. Null where nothing was lost.
 */
export function causeFinding(
  record: TrialRecord,
  stands: PlotStand[],
  asOf: Day,
  level: number,
): Finding<CauseCurve[]> | null {
  const held = stands.filter((stand) => stand.setOut > 0);
  const causes = [...new Set(held.flatMap((stand) => stand.losses.map((loss) => loss.cause)))].sort();
  const from = firstDay(held);
  if (causes.length === 0 || from === null) return null;
  const dayOf = new Map(
    held.flatMap((stand) =>
      stand.losses.map((loss): [number, Day] => [daysBetween(from, loss.seenOn), loss.seenOn]),
    ),
  );
  const curves = record.varieties.flatMap((variety) => {
    const plots = held
      .filter((stand) => stand.plot.variety === variety)
      .map((stand) => followedPlot(record, stand, from, asOf, causes));
    if (plots.length === 0) return [];
    const { times, causes: incidences } = aalenJohansen(
      {
        times: plots.flatMap((plot) => Array.from(plot.times)),
        causes: plots.flatMap((plot) => Array.from(plot.causes)),
      },
      causes.length,
    );
    return incidences.flatMap((incidence, place): CauseCurve[] => {
      const steps = Array.from(times).flatMap((time, at) => {
        const day = dayOf.get(time);
        return day !== undefined && incidence.lost[at] > 0 ? [{ day, share: incidence.share[at] }] : [];
      });
      return steps.length === 0 ? [] : [{ variety, cause: causes[place], steps }];
    });
  });
  return {
    value: curves,
    plants: held.reduce((sum, stand) => sum + stand.setOut, 0),
    plots: held.length,
    asOf,
    method: {
      name: "cumulative incidence by cause (Aalen–Johansen), plants harvested whole as censored",
      sources: cite("aalen-johansen-1978"),
    },
    scale: "share of plants set out",
    level,
    cautions: [],
  };
}
