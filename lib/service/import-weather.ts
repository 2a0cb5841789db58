import { addImportedFile } from "@/db/queries/add-imported-file";
import { appendWeatherDay } from "@/db/queries/append-weather-day";
import { findGarden } from "@/db/queries/find-garden";
import { findWeatherDay } from "@/db/queries/find-weather-day";
import type { FileManner } from "@/lib/records/cell-reader";
import { readWeather, type WeatherFileRow } from "@/lib/records/read-weather";
import type { Fault } from "@/lib/words/fault";
import type { House } from "./house";
import type { ImportOccasion } from "./import-asked";
import type { TableImport } from "./import-table";

type Reading = Omit<WeatherFileRow, "line">;

function colder(one: number | null, other: number | null): number | null {
  return one === null || other === null ? (one ?? other) : Math.min(one, other);
}

function warmer(one: number | null, other: number | null): number | null {
  return one === null || other === null ? (one ?? other) : Math.max(one, other);
}

/**
 * Takes in weather: several readings of one day and place become its lowest and highest. A day that stands here with other
 * figures is written down again, and the last holds; one with the same figures adds nothing.
 */
export function importWeather(
  house: House,
  options: { file: string; manner: FileManner; occasion: ImportOccasion; isWriting: boolean },
): TableImport {
  const { database } = house;
  const { file, manner, occasion, isWriting } = options;
  const days = new Map<string, Reading>();
  const tally = { rows: 0, added: 0, already: 0 };
  let readings = 0;
  let changed = 0;

  function write(fresh: Reading[]): void {
    const gardenId = findGarden(database)?.id ?? "";
    addImportedFile(database, {
      id: occasion.id,
      gardenId,
      kind: "weather",
      trialId: null,
      name: file,
      contentHash: occasion.contentHash,
      rowCount: tally.rows,
      added: fresh.length,
      importedAt: occasion.at,
    });
    for (const day of fresh) appendWeatherDay(database, { ...day, gardenId, sourceId: occasion.id });
  }

  return {
    tally,
    take(row, faults) {
      const own: Fault[] = [];
      const { line: _, ...read } = readWeather(row, own, manner);
      readings += 1;
      if (own.length > 0) return faults.add(own);
      const key = `${read.day} ${read.place}`;
      const before = days.get(key);
      days.set(
        key,
        before
          ? {
              ...before,
              minDeciC: colder(before.minDeciC, read.minDeciC),
              maxDeciC: warmer(before.maxDeciC, read.maxDeciC),
            }
          : read,
      );
    },
    finish(faults) {
      tally.rows = days.size;
      const fresh: Reading[] = [];
      for (const day of days.values()) {
        const kept = findWeatherDay(database, day.day, day.place);
        if (kept?.minDeciC === day.minDeciC && kept?.maxDeciC === day.maxDeciC) continue;
        if (kept) changed += 1;
        fresh.push(day);
      }
      tally.added = fresh.length;
      tally.already = days.size - fresh.length;
      if (isWriting && faults.count === 0 && fresh.length > 0) write(fresh);
    },
    said: () => [
      ...(readings > days.size
        ? [
            `${readings} readings are of ${days.size} days and places: the lowest and the highest of each day are kept.`,
          ]
        : []),
      ...(changed > 0
        ? [
            `${changed} of the days stand here with other figures; this file’s will hold, the earlier ones stay kept.`,
          ]
        : []),
    ],
  };
}
