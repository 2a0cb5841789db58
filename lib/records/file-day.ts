import { type Day, isDay, parseDay } from "@/lib/words/day";
import { type Outcome, quoteFound, refusal, success } from "@/lib/words/fault";

/** Which of the two comes first in a file's dates of numbers only. */
export const dayOrders = ["day first", "month first"] as const;
export type DayOrder = (typeof dayOrders)[number];

const ofNumbers = /^(\d{1,2})[./-](\d{1,2})[./-](\d{4}|\d{2})$/;
const yearFirst = /^(\d{4})[./](\d{1,2})[./](\d{1,2})$/;
const shortYear = /^(\d{1,2} [a-z]+) (\d{2})$/i;
const monthFirst = /^([a-z]{3,9})\.? (\d{1,2})(?:st|nd|rd|th)?,? (\d{4})$/i;
const clock = /[T ]\d{1,2}:\d{2}(:\d{2}(\.\d+)?)?( ?[ap]m)?(Z|[+-]\d{2}:?\d{2})?$/i;

/** A date without the time of day that a spreadsheet puts behind it. */
function withoutClock(text: string): string {
  return text.trim().replace(clock, "").trim();
}

/** Years of two digits are of this century: records of gardens kept on a machine are. */
function wholeYear(year: string): string {
  return year.length === 2 ? `20${year}` : year;
}

function fromParts(year: string, month: string, day: string): Day | null {
  const text = `${wholeYear(year)}-${month.padStart(2, "0")}-${day.padStart(2, "0")}`;
  return isDay(text) && text >= "1900-01-01" && text <= "2199-12-31" ? text : null;
}

/**
 * What one date says of its file: *day first* where only that can be meant (`25/03/2027`), *either* where both can
 * (`03/04/2027`), null where it says nothing, as `4/4/2027` and dates with a month's name do.
 */
export function tellDayOrder(text: string): DayOrder | "either" | null {
  const match = ofNumbers.exec(withoutClock(text));
  if (!match || match[1] === match[2]) return null;
  const [, first, second, year] = match;
  const dayFirst = fromParts(year, second, first);
  const monthFirst = fromParts(year, first, second);
  if (dayFirst && monthFirst) return dayFirst === monthFirst ? null : "either";
  return dayFirst ? "day first" : monthFirst ? "month first" : null;
}

/**
 * Reads a date as it stands in somebody's file: whatever `parseDay` reads, with `4-Mar-27`, `Mar 4, 2027`, `2027/3/4` and
 * a time of day behind it besides, and dates of numbers only in the file's own order.
 *
 * @param order the file's; without it dates of numbers only are refused where they could be two days
 */
export function parseFileDay(text: string, place: string, order: DayOrder | null): Outcome<Day> {
  const plain = withoutClock(text);
  const numbers = ofNumbers.exec(plain);
  if (numbers) {
    const [, first, second, year] = numbers;
    const [month, day] = (order ?? "day first") === "day first" ? [second, first] : [first, second];
    const read = fromParts(year, month, day);
    const isSure = order !== null || tellDayOrder(plain) !== "either";
    if (read && isSure) return success(read);
    const wanted = order
      ? `a date with the ${order === "day first" ? "day" : "month"} first, as in the rest of the file`
      : "a date such as 4 Mar 2027 or 2027-03-04";
    return refusal([{ place, found: quoteFound(text), wanted }]);
  }
  const begun = yearFirst.exec(plain);
  const read = begun && fromParts(begun[1], begun[2], begun[3]);
  if (read) return success(read);
  const words = plain
    .replace(/^(\d{1,2})[-. ]+([a-z]{3,9})\.?[-. ]+(\d{2,4})$/i, "$1 $2 $3")
    .replace(monthFirst, "$2 $1 $3")
    .replace(shortYear, "$1 20$2");
  const named = parseDay(words, place);
  return named.ok ? named : refusal([{ ...named.faults[0], found: quoteFound(text) }]);
}

/** The two days that a date of numbers only may be: for asking which. */
export function bothReadings(text: string): Record<DayOrder, Day> | null {
  const [, first = "", second = "", year = ""] = ofNumbers.exec(withoutClock(text)) ?? [];
  const dayFirst = fromParts(year, second, first);
  const monthFirst = fromParts(year, first, second);
  return dayFirst && monthFirst && { "day first": dayFirst, "month first": monthFirst };
}
