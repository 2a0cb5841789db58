import type { Day } from "./day";

/** The month in which a new season of trials begins, when winter crops have been cleared: May, or November in the south. */
function firstMonth(latitude: number): number {
  return latitude < 0 ? 11 : 5;
}

/**
 * The season that something planted on a day belongs to, from autumn to spring: `2026/27`. What goes in from May on
 * stands the winter to come; what goes in up to April belongs to the winter that is ending.
 */
export function seasonOf(planted: Day, latitude: number): string {
  const year = Number(planted.slice(0, 4));
  const month = Number(planted.slice(5, 7));
  const began = month >= firstMonth(latitude) ? year : year - 1;
  return `${began}/${String((began + 1) % 100).padStart(2, "0")}`;
}

/** The days of planting that belong to a season, both included; null for what is no season's name. */
export function daysOfSeason(season: string, latitude: number): { from: Day; until: Day } | null {
  const began = Number(/^(\d{4})\/\d{2}$/.exec(season)?.[1] ?? Number.NaN);
  const month = String(firstMonth(latitude)).padStart(2, "0");
  const last = latitude < 0 ? "10-31" : "04-30";
  const from = `${began}-${month}-01` as Day;
  if (Number.isNaN(began) || seasonOf(from, latitude) !== season) return null;
  return { from, until: `${began + 1}-${last}` as Day };
}

/** Whether what stood from one day to another went through the middle of a winter: mid-January, or mid-July in the south. */
export function wentThroughWinter(from: Day, until: Day, latitude: number): boolean {
  const middle = latitude < 0 ? "-07-15" : "-01-15";
  const years = [from, until].map((day) => Number(day.slice(0, 4)));
  for (let year = years[0]; year <= years[1]; year += 1) {
    const day = `${year}${middle}`;
    if (from <= day && day <= until) return true;
  }
  return false;
}
