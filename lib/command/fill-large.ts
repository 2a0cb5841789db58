import { existsSync } from "node:fs";
import { join } from "node:path";
import { openMigrated } from "@/db/migrate";
import { closeDatabase, inOneAct } from "@/db/open";
import { manyWinters } from "@/seed/many-winters";
import { readyDataFolder } from "./data-folder";
import { liveHouse } from "./live-house";

/** Fills an empty data folder with the record of so many winters; throws where a garden is kept there already. */
export function fillLarge(dataFolder: string, winters: number): void {
  const file = join(dataFolder, "garden.sqlite");
  if (existsSync(file))
    throw new Error(`${dataFolder} holds a garden already; name an empty folder with PROVING_BED_DATA`);
  readyDataFolder(dataFolder, file);
  const { database } = openMigrated(file, "seed");
  try {
    for (const step of manyWinters(liveHouse(database, dataFolder), winters)) inOneAct(database, step);
  } finally {
    closeDatabase(database);
  }
}
