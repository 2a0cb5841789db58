import { UTCDate } from "@date-fns/utc";
import { addDays as addCalendarDays, differenceInCalendarDays, format, isValid, parse } from "date-fns";
import type { Brand } from "./brand";
import { type Outcome, quoteFound, refusal, success } from "./fault";
import type { Instant } from "./instant";

/** A calendar day at the garden, `2026-11-25`: what gardeners call a date. It has no time and no zone of its own. */
export type Day = Brand<string, "Day">;

const wantedDay = "a date such as 4 Mar 2027 or 2027-03-04";
const writtenForms = ["yyyy-MM-dd", "d MMM yyyy", "d MMMM yyyy"];
const weekday = /^(mon|tue|tues|wed|wednes|thu|thurs|fri|sat|satur|sun)(day)?\.?,? /i;

function toUtc(day: Day): UTCDate {
  return new UTCDate(`${day}T00:00:00Z`);
}

/** Whether a text is a day that exists, in the stored form. */
export function isDay(text: string): text is Day {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return false;
  const date = new UTCDate(`${text}T00:00:00Z`);
  return isValid(date) && format(date, "yyyy-MM-dd") === text;
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
  for (const form of writtenForms) {
    const date = parse(trimmed, form, new UTCDate(0));
    if (!isValid(date)) continue;
    const day = format(date, "yyyy-MM-dd");
    if (isDay(day) && day >= "1900-01-01" && day <= "2199-12-31") return success(day);
  }
  return refusal([{ place, found: quoteFound(text), wanted: wantedDay }]);
}

/** The day so many days after (or, with a negative count, before) a day. */
export function addDays(day: Day, count: number): Day {
  return format(addCalendarDays(toUtc(day), count), "yyyy-MM-dd") as Day;
}

/** Days from the first to the second; negative when the second is earlier. */
export function daysBetween(from: Day, to: Day): number {
  return differenceInCalendarDays(toUtc(to), toUtc(from));
}

/** The calendar day that an instant falls on at the garden: 23:30 belongs to that evening's day, not to UTC's. */
export function dayAtGarden(instant: Instant, timeZone: string): Day {
  const parts = new Intl.DateTimeFormat("en-CA", {
    timeZone,
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
  }).format(new UTCDate(instant));
  return parts as Day;
}

/** A day for reading, `Thu 4 Mar`; with the year where the reader could mistake it, `Thu 4 Mar 2027`. */
export function sayDay(day: Day, withYear = false): string {
  return format(toUtc(day), withYear ? "EEE d MMM yyyy" : "EEE d MMM");
}

/** A day as it is typed into a form: `4 Mar 2027`. */
export function writeDay(day: Day): string {
  return format(toUtc(day), "d MMM yyyy");
}
