import { addDays, type Day, daysBetween } from "@/lib/words/day";
import type { YieldPicks } from "./finding";
import type { PlotYield, TrialPicks } from "./yield-plots";

const daysOfLeanestMonth = 28;

function mean(values: number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Mean grams a plot on one pick, over the plots that were not missed; null when all were. */
function meanOn(day: Day, own: PlotYield[]): { meanG: number; plots: number } | null {
  const grams = own.flatMap((one) => one.picks.filter((pick) => pick.day === day).map((pick) => pick.grams));
  return grams.length === 0 ? null : { meanG: mean(grams), plots: grams.length };
}

/**
 * What the picks tell besides their total: how many bore something, the longest wait between two such picks, grams a
 * week in the leanest four weeks between the first and the last, the first pick and the day by which half had come.
 */
export function yieldPicks(varieties: string[], picks: TrialPicks): YieldPicks {
  const byDay: YieldPicks["byDay"] = [];
  const told = varieties.map((variety) => {
    const own = picks.plots.filter((one) => one.plot.variety === variety);
    const days = picks.days.flatMap((day) => {
      const on = meanOn(day, own);
      if (on) byDay.push({ day, variety, ...on });
      return on ? [{ day, meanG: on.meanG }] : [];
    });
    const bearing = days.filter((pick) => pick.meanG > 0).map((pick) => pick.day);
    const gaps = bearing.slice(1).map((day, place) => daysBetween(bearing[place], day));
    const pieces = own.flatMap((one) => (one.pieces === null ? [] : [one.pieces]));
    return {
      variety,
      picks: own.length === 0 ? 0 : mean(own.map((one) => one.picks.filter((pick) => pick.grams > 0).length)),
      longestGapDays: gaps.length > 0 ? Math.max(...gaps) : null,
      leanestMonthG: leanestMonth(days),
      firstPickOn: bearing[0] ?? null,
      halfTotalOn: halfTotal(days),
      pieces: pieces.length > 0 ? pieces.reduce((sum, count) => sum + count, 0) : null,
    };
  });
  return { days: picks.days, byDay, varieties: told };
}

function halfTotal(days: { day: Day; meanG: number }[]): Day | null {
  const total = days.reduce((sum, pick) => sum + pick.meanG, 0);
  if (total <= 0) return null;
  let sum = 0;
  for (const pick of days) {
    sum += pick.meanG;
    if (sum * 2 >= total) return pick.day;
  }
  return null;
}

/** Grams a week in the four weeks that gave least, of all four-week spans between the first pick and the last. */
function leanestMonth(days: { day: Day; meanG: number }[]): number | null {
  const first = days[0]?.day;
  const last = days.at(-1)?.day;
  if (!first || !last || daysBetween(first, last) < daysOfLeanestMonth) return null;
  const spans = daysBetween(first, last) - daysOfLeanestMonth + 1;
  const sums = Array.from({ length: spans }, (_, offset) => {
    const from = addDays(first, offset + 1);
    const to = addDays(from, daysOfLeanestMonth - 1);
    return days
      .filter((pick) => pick.day >= from && pick.day <= to)
      .reduce((sum, pick) => sum + pick.meanG, 0);
  });
  return Math.min(...sums) / (daysOfLeanestMonth / 7);
}
