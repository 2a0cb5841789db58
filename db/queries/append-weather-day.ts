import type { Database } from "../open";
import { prepareOnce } from "../prepare-once";
import { weatherDay } from "../schema/import";
import { placeholders } from "./placeholders";

const statement = prepareOnce((database) => {
  const { seq: _, ...row } = placeholders(weatherDay);
  return database.insert(weatherDay).values(row).prepare();
});

/** Writes down a day's weather at one place; a day read before stays beside it, and the last holds. */
export function appendWeatherDay(database: Database, row: Omit<typeof weatherDay.$inferSelect, "seq">): void {
  statement(database).run({ ...row });
}
