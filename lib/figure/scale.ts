import { addDays, type Day, daysBetween } from "@/lib/words/day";

/** Where a value lies on the drawing, in px. */
export type Scale = (value: number) => number;

/** Maps `from` to `fromPx`, `to` to `toPx` and the rest in proportion. An empty domain maps to the middle. */
export function linearScale(from: number, to: number, fromPx: number, toPx: number): Scale {
  if (to === from) return () => (fromPx + toPx) / 2;
  return (value) => fromPx + ((value - from) / (to - from)) * (toPx - fromPx);
}

/** Round values (1, 2 or 5 times a power of ten apart) inside the domain, at most about `count` of them. */
export function roundTicks(from: number, to: number, count: number): number[] {
  const span = to - from;
  if (!(span > 0)) return [from];
  const roughStep = span / Math.max(1, count);
  const power = 10 ** Math.floor(Math.log10(roughStep));
  const step = [1, 2, 5, 10].map((factor) => factor * power).find((size) => size >= roughStep * (1 - 1e-9))!;
  const first = Math.ceil(from / step - 1e-9);
  const last = Math.floor(to / step + 1e-9);
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  return Array.from({ length: last - first + 1 }, (_, index) =>
    Number(((first + index) * step).toFixed(decimals)),
  );
}

/** The domain widened to round values at both ends. */
export function roundDomain(from: number, to: number, count: number): [number, number] {
  const ticks = roundTicks(from, to, count);
  const step = ticks.length > 1 ? ticks[1] - ticks[0] : Math.max(Math.abs(to), 1);
  const low = Math.floor(from / step + 1e-9) * step;
  const high = Math.ceil(to / step - 1e-9) * step;
  return [Number(low.toPrecision(12)), Number(high.toPrecision(12))];
}

/** The first days of the months between two days (both may be first days themselves). */
export function monthStarts(from: Day, to: Day): Day[] {
  const starts: Day[] = [];
  for (let day = from; day <= to; day = addDays(day, 1)) if (day.endsWith("-01")) starts.push(day);
  return starts;
}

/** A scale of days, in px. */
export function dayScale(from: Day, to: Day, fromPx: number, toPx: number): (day: Day) => number {
  const scale = linearScale(0, daysBetween(from, to), fromPx, toPx);
  return (day) => scale(daysBetween(from, day));
}
