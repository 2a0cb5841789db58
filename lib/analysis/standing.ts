import { standingLimits } from "@/lib/statistics/standing-limits";
import { type Day, daysBetween } from "@/lib/words/day";
import { cite } from "./cite";
import type { Finding, StandingCurve } from "./finding";
import { firstDay, followedPlot } from "./followed-plot";
import { survivalLayout } from "./layout";
import type { PlotStand } from "./plot-stand";
import type { TrialRecord } from "./trial-record";

/**
 * The share of each variety standing after every look, with limits that know that plants of one plot share their fate.
 * A loss counts on the day on which it was seen. Null before anybody has looked.
 */
export function standingFinding(request: {
  record: TrialRecord;
  stands: PlotStand[];
  looks: Day[];
  asOf: Day;
  level: number;
}): Finding<StandingCurve[]> | null {
  const { record, stands, asOf, level } = request;
  const looks = request.looks.filter((day) => day <= asOf);
  const held = stands.filter((stand) => stand.setOut > 0);
  const from = firstDay(held) ?? looks[0];
  if (looks.length === 0 || held.length === 0 || from === undefined) return null;
  const days = [...new Set([from, ...looks.filter((day) => day > from)])];
  const { varieties } = standingLimits(
    held.map((stand) => followedPlot(record, stand, from, asOf)),
    survivalLayout(record),
    days.map((day) => daysBetween(from, day)),
    level,
  );
  const curves = record.varieties.flatMap((variety): StandingCurve[] => {
    const own = varieties.find((one) => one.variety === variety);
    if (!own) return [];
    const steps = own.steps.flatMap((step, place) =>
      step.share === null
        ? []
        : [
            {
              day: days[place],
              atRisk: step.followed,
              standing: step.share,
              low: step.low,
              high: step.high,
            },
          ],
    );
    return [{ variety, steps }];
  });
  return {
    value: curves,
    plants: held.reduce((sum, stand) => sum + stand.setOut, 0),
    plots: held.length,
    asOf,
    method: {
      name: "Kaplan–Meier stepped at the looks, limits at each look by effective plants",
      sources: cite("kaplan-meier-1958", "greenwood-1926", "wilson-1927"),
    },
    scale: "share of plants set out",
    level,
    cautions: [],
  };
}
