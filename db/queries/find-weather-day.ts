import type { Day } from "@/lib/words/day";
import type { Database } from "../open";
import { prepareOnce } from "../prepare-once";
import type { WeatherRow } from "./list-weather";

const query = prepareOnce((database) =>
  database.$client.prepare<[Day, string], WeatherRow>(
    `SELECT day, place, min_deci_c AS minDeciC, max_deci_c AS maxDeciC
       FROM weather_day WHERE day = ? AND place = ? ORDER BY seq DESC LIMIT 1`,
  ),
);

/** The weather of a day at one place as it was read last, or null when it was not read. */
export function findWeatherDay(database: Database, day: Day, place: string): WeatherRow | null {
  return query(database).get(day, place) ?? null;
}
