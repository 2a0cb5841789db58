import type { StandingCurve } from "@/lib/analysis/finding";
import { sayDay } from "@/lib/words/day";
import { sayDecimal, sayPercent } from "@/lib/words/say-number";

/** Mean days standing and the day by which half were lost, a row a variety. */
export function meanDaysRows(curves: StandingCurve[]): { headings: string[]; rows: string[][] } {
  return {
    headings: ["variety", "days", "half lost by"],
    rows: curves.map((curve) => [
      curve.variety,
      curve.meanDays === null ? "not watched that long" : sayDecimal(curve.meanDays, 0),
      curve.halfLostOn === null ? "–" : sayDay(curve.halfLostOn),
    ]),
  };
}

/** Between which days losses lie, where plots were looked at on different ones. */
export function stretchRows(curves: StandingCurve[]): { headings: string[]; rows: string[][] } {
  return {
    headings: ["variety", "after", "by", "standing before", "standing after"],
    rows: curves.flatMap(({ variety, stretches }) =>
      stretches.map((stretch) => [
        variety,
        sayDay(stretch.from),
        sayDay(stretch.to),
        sayPercent(stretch.before),
        sayPercent(stretch.after),
      ]),
    ),
  };
}
