import type { Brand } from "./brand";
import { type Outcome, quoteFound, refusal, success } from "./fault";
import type { Instant } from "./instant";

/** A calendar day at the garden, `2026-11-25`: what gardeners call a date. It has no time and no zone of its own. */
export type Day = Brand<string, "Day">;

const wantedDay = "a date such as 4 Mar 2027 or 2027-03-04";
const dayMs = 86_400_000;
const months = [
  "January",
  "February",
  "March",
  "April",
  "May",
  "June",
  "July",
  "August",
  "September",
  "October",
  "November",
  "December",
];
const weekdays = ["Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"];
const weekday = /^(mon|tue|tues|wed|wednes|thu|thurs|fri|sat|satur|sun)(day)?\.?,? /i;

function utcMsOf(day: Day): number {
  return Date.parse(`${day}T00:00:00Z`);
}

function toUtc(day: Day): Date {
  return new Date(utcMsOf(day));
}

function dayOf(utcMs: number): Day {
  return new Date(utcMs).toISOString().slice(0, 10) as Day;
}

const short = (month: string) => month.slice(0, 3);

/** The stored form of a date in one of the ways in which it is written; null for any other text. */
function storedForm(text: string): string | null {
  const figures = /^(\d{4})-(\d{1,2})-(\d{1,2})$/.exec(text);
  if (figures) return `${figures[1]}-${figures[2].padStart(2, "0")}-${figures[3].padStart(2, "0")}`;
  const [, day, name, year] = /^(\d{1,2}) ([a-z]+) (\d{4})$/i.exec(text) ?? [];
  if (name === undefined) return null;
  const said = name.toLowerCase();
  const month = months.findIndex((known) =>
    [known, short(known)].some((form) => form.toLowerCase() === said),
  );
  return month < 0 ? null : `${year}-${String(month + 1).padStart(2, "0")}-${day.padStart(2, "0")}`;
}

/** Whether a text is a day that exists, in the stored form. */
export function isDay(text: string): text is Day {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return false;
  const utcMs = Date.parse(`${text}T00:00:00Z`);
  return !Number.isNaN(utcMs) && dayOf(utcMs) === text;
}

/**
 * Reads a date as a person writes it: `2027-03-04`, `4 Mar 2027`, `4th March 2027`, `Thu 4 Mar 2027`. A weekday is passed
 * over, right or wrong: somebody who changes the figure of a date often leaves it standing. Dates made of numbers only with
 * the year last (`4/3/2027`) are refused here, since two readers take them for two days.
 */
export function parseDay(text: string, place: string): Outcome<Day> {
  const trimmed = text
    .trim()
    .replace(/\s+/g, " ")
    .replace(weekday, "")
    .replace(/^(\d{1,2})(st|nd|rd|th)\b/i, "$1")
    .replace(/\bsept\b/i, "Sep");
  const day = storedForm(trimmed);
  if (day !== null && isDay(day) && day >= "1900-01-01" && day <= "2199-12-31") return success(day);
  return refusal([{ place, found: quoteFound(text), wanted: wantedDay }]);
}

/** The day so many days after (or, with a negative count, before) a day. */
export function addDays(day: Day, count: number): Day {
  return dayOf(utcMsOf(day) + count * dayMs);
}

/** Days from the first to the second; negative when the second is earlier. */
export function daysBetween(from: Day, to: Day): number {
  return Math.round((utcMsOf(to) - utcMsOf(from)) / dayMs);
}

/** The calendar day that an instant falls on at the garden: 23:30 belongs to that evening's day, not to UTC's. */
export function dayAtGarden(instant: Instant, timeZone: string): Day {
  const parts = new Intl.DateTimeFormat("en-CA", {
    timeZone,
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
  }).format(new Date(instant));
  return parts as Day;
}

/** A day for reading, `Thu 4 Mar`; with the year where the reader could mistake it, `Thu 4 Mar 2027`. */
export function sayDay(day: Day, withYear = false): string {
  const written = `${weekdays[toUtc(day).getUTCDay()]} ${writeDay(day)}`;
  return withYear ? written : written.slice(0, -5);
}

/** A day as it is typed into a form: `4 Mar 2027`. */
export function writeDay(day: Day): string {
  const utc = toUtc(day);
  return `${utc.getUTCDate()} ${short(months[utc.getUTCMonth()])} ${day.slice(0, 4)}`;
}
