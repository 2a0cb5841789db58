import { existsSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { openMigrated } from "@/db/migrate";
import { closeDatabase, inOneAct } from "@/db/open";
import { manyWinters } from "@/seed/many-winters";
import { dataFolderPath, readyDataFolder } from "./data-folder";
import { liveHouse } from "./live-house";

const root = fileURLToPath(new URL("../..", import.meta.url));

/**
 * `npm run seed:large [-- WINTERS]`: fills an empty data folder with the record of ten winters, or of as many as are said,
 * to try the program at that size. Refuses a folder that holds a garden already.
 */
function main([given = "10"]: string[]): string {
  const winters = Number(given);
  if (!Number.isInteger(winters) || winters < 1 || winters > 120)
    throw new Error(`WINTERS must be a whole number from 1 to 120; found ${given}`);
  const dataFolder = dataFolderPath(root, process.env);
  const file = join(dataFolder, "garden.sqlite");
  if (existsSync(file))
    throw new Error(`${dataFolder} holds a garden already; name an empty folder with PROVING_BED_DATA`);
  readyDataFolder(dataFolder, file);
  const { database } = openMigrated(file, "seed");
  try {
    for (const step of manyWinters(liveHouse(database, dataFolder), winters)) inOneAct(database, step);
    const count = (table: "trial" | "plot" | "observation") =>
      Number(database.$client.prepare(`SELECT count(*) FROM ${table}`).pluck().get()).toLocaleString("en-GB");
    return `${file}: ${count("trial")} trials, ${count("plot")} plots, ${count("observation")} observations.`;
  } finally {
    closeDatabase(database);
  }
}

try {
  console.log(main(process.argv.slice(2)));
} catch (fault) {
  console.error(`It was not filled: ${fault instanceof Error ? fault.message : fault}`);
  process.exitCode = 1;
}
