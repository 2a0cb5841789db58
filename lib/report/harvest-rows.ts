import type { YieldPicks } from "@/lib/analysis/finding";
import { type Day, daysBetween, sayDay } from "@/lib/words/day";
import { sayDecimal } from "@/lib/words/say-number";

export interface HarvestRows {
  varieties: string[];
  /** One row a trial pick, in order: days since the first pick, and grams a plot by variety; null where not picked. */
  picks: { day: Day; words: string; daysIn: number; grams: (number | null)[]; summed: (number | null)[] }[];
}

/** The trial picks as rows to draw harvest over time from, each pick and added up. */
export function harvestRows(picks: YieldPicks): HarvestRows {
  const varieties = picks.varieties.map((one) => one.variety);
  const sums = varieties.map(() => 0);
  return {
    varieties,
    picks: picks.days.map((day) => {
      const grams = varieties.map(
        (variety) => picks.byDay.find((pick) => pick.day === day && pick.variety === variety)?.meanG ?? null,
      );
      grams.forEach((value, place) => {
        sums[place] += value ?? 0;
      });
      return {
        day,
        words: sayDay(day),
        daysIn: daysBetween(picks.days[0], day),
        grams,
        summed: grams.map((value, place) => (value === null ? null : sums[place])),
      };
    }),
  };
}

/** What the picks tell besides their total, a row a variety. */
export function pickRows(picks: YieldPicks): { headings: string[]; rows: string[][] } {
  return {
    headings: [
      "variety",
      "picks that bore",
      "first pick",
      "half picked by",
      "longest wait",
      "g a week, leanest four weeks",
      "pieces",
    ],
    rows: picks.varieties.map((one) => [
      one.variety,
      sayDecimal(one.picks, Number.isInteger(one.picks) ? 0 : 1),
      one.firstPickOn ? sayDay(one.firstPickOn) : "–",
      one.halfTotalOn ? sayDay(one.halfTotalOn) : "–",
      one.longestGapDays === null ? "–" : `${one.longestGapDays} days`,
      one.leanestMonthG === null ? "–" : sayDecimal(one.leanestMonthG, 0),
      one.pieces === null ? "–" : String(one.pieces),
    ]),
  };
}
