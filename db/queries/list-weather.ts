import type { Day } from "@/lib/words/day";
import type { Database } from "../open";
import { prepareOnce } from "../prepare-once";

/** The coldest and the warmest of a day at one place; what was not read is null, never both. */
export interface WeatherRow {
  day: Day;
  /** `outside`, or a cover's name. */
  place: string;
  minDeciC: number | null;
  maxDeciC: number | null;
}

/** The whole garden file has one garden. A day that was read again stands as it was read last. */
const query = prepareOnce((database) =>
  database.$client.prepare<[Day, Day], WeatherRow & { seq: number }>(
    `SELECT max(seq) AS seq, day, place, min_deci_c AS minDeciC, max_deci_c AS maxDeciC
       FROM weather_day WHERE day BETWEEN ? AND ? GROUP BY day, place ORDER BY day, place`,
  ),
);

/** The weather from one day to another, both included, by day and place; temperatures in tenths of a degree Celsius. */
export function listWeather(database: Database, fromDay: Day, untilDay: Day): WeatherRow[] {
  return query(database)
    .all(fromDay, untilDay)
    .map(({ seq: _, ...row }) => row);
}
