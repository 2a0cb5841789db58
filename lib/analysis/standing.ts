import { kaplanMeierLimits } from "@/lib/statistics/kaplan-meier-limits";
import { restrictedMean } from "@/lib/statistics/restricted-mean";
import { standingLimits } from "@/lib/statistics/standing-limits";
import { standingQuantile } from "@/lib/statistics/standing-quantile";
import { turnbull } from "@/lib/statistics/turnbull";
import { addDays, type Day, daysBetween } from "@/lib/words/day";
import { cite } from "./cite";
import type { Finding, StandingCurve } from "./finding";
import { firstDay, followedPlot } from "./followed-plot";
import { survivalLayout } from "./layout";
import type { PlotStand } from "./plot-stand";
import { lookDays, type ReadPlot } from "./read-plots";
import type { TrialRecord } from "./trial-record";

/**
 * The share of each variety standing after every look, with limits that know that plants of one plot share their fate.
 * A loss counts on the day on which it was seen. Null before anybody has looked.
 */
export function standingFinding(request: {
  record: TrialRecord;
  stands: PlotStand[];
  read: ReadPlot[];
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
  const isCommon = haveCommonLooks(request.read, looks);
  const length = daysBetween(from, days[days.length - 1]);
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
    const plots = held.filter((stand) => stand.plot.variety === variety);
    const half = standingQuantile(own.curve, 0.5, kaplanMeierLimits(own.curve, "log–log", level)).time;
    return [
      {
        variety,
        steps,
        meanDays: length > 0 ? restrictedMean(own.curve, length).mean : null,
        halfLostOn: half === null ? null : addDays(from, Math.ceil(half)),
        stretches: isCommon ? [] : stretchesOf(plots, from, asOf),
      },
    ];
  });
  return {
    value: curves,
    plants: held.reduce((sum, stand) => sum + stand.setOut, 0),
    plots: held.length,
    asOf,
    method: {
      name: "Kaplan–Meier stepped at the looks, limits at each look by effective plants",
      sources: cite("kaplan-meier-1958", "greenwood-1926", "wilson-1927", "turnbull-1976"),
    },
    scale: "share of plants set out",
    level,
    cautions: [],
  };
}

/** Whether every plot was looked at on every look; those that ended or left are not asked for afterwards. */
function haveCommonLooks(read: ReadPlot[], looks: Day[]): boolean {
  return read.every((one) => {
    const seen = new Set(lookDays([one]));
    const end = one.facts.find((fact) => fact.kind === "ended")?.seenOn ?? one.outFrom;
    return looks.every((day) => seen.has(day) || (end !== null && day >= end));
  });
}

/** Between which days losses lie, when plots were looked at on different ones: Turnbull's estimate. */
function stretchesOf(plots: PlotStand[], from: Day, asOf: Day): StandingCurve["stretches"] {
  const at = (day: Day) => Math.max(0, daysBetween(from, day));
  const windows = plots.flatMap((stand) => [
    ...stand.losses.map(({ standingOn, seenOn, plants }) => ({
      left: standingOn === null ? 0 : Math.min(at(standingOn), at(seenOn)),
      right: at(seenOn),
      plants,
    })),
    ...stand.removals.map(({ seenOn, plants }) => ({
      left: at(seenOn),
      right: Number.POSITIVE_INFINITY,
      plants,
    })),
    { left: at(asOf), right: Number.POSITIVE_INFINITY, plants: stand.standing },
  ]);
  const { stretches } = turnbull(windows.filter((window) => window.plants > 0));
  return stretches
    .filter(({ mass, right }) => mass > 1e-9 && Number.isFinite(right))
    .map(({ left, right, mass, shareAfter }) => ({
      from: addDays(from, left),
      to: addDays(from, right),
      before: Math.min(1, shareAfter + mass),
      after: shareAfter,
    }));
}
