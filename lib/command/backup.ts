import { existsSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { closeDatabase, openDatabase } from "@/db/open";
import { backUp } from "@/lib/service/back-up";
import { backupFolder } from "@/lib/service/backup-names";
import { dataFolderPath } from "./data-folder";
import { liveHouse } from "./live-house";

const root = fileURLToPath(new URL("../..", import.meta.url));
const dataFolder = dataFolderPath(root, process.env);
const file = join(dataFolder, "garden.sqlite");

/** `npm run backup`: one more verified copy of the garden's file, whether the home is running or not. */
async function main(): Promise<number> {
  if (!existsSync(file)) {
    console.error(`There is no garden at ${file} yet.`);
    return 1;
  }
  try {
    const database = openDatabase(file);
    const name = await backUp(liveHouse(database, dataFolder));
    closeDatabase(database);
    console.log(`The garden was copied to ${join(backupFolder(dataFolder), name)} and the copy checked.`);
    return 0;
  } catch (fault) {
    console.error(`Nothing was backed up: ${fault instanceof Error ? fault.message : fault}`);
    return 1;
  }
}

process.exitCode = await main();
