import { existsSync } from "node:fs";
import { join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { takeLock } from "@/db/lock";
import { openMigrated } from "@/db/migrate";
import { closeDatabase } from "@/db/open";
import { endAllAccess } from "@/db/queries/end-all-access";
import { restoreFile } from "@/db/restore-file";
import { backupFolder, stampOf } from "@/lib/service/backup-names";
import { instantOf } from "@/lib/words/instant";
import { dataFolderPath, readyDataFolder } from "./data-folder";

const root = fileURLToPath(new URL("../..", import.meta.url));

/**
 * `npm run restore -- FILE`: puts a copy in the place of the garden's file. Checks the copy first, keeps the present
 * file aside in `backups/`, ends what sessions the copy holds, and refuses while a home is running on the same folder.
 */
async function main(given: string[]): Promise<string> {
  if (given.length !== 1) throw new Error("name one file: npm run restore -- FILE");
  const copy = resolve(given[0]);
  if (!existsSync(copy)) throw new Error(`there is no file ${copy}`);
  const dataFolder = dataFolderPath(root, process.env);
  const file = join(dataFolder, "garden.sqlite");
  if (copy === file) throw new Error(`${copy} is the garden's own file`);
  readyDataFolder(dataFolder, file);
  const release = takeLock(join(dataFolder, "garden.lock"));
  if (!release) throw new Error(`Proving Bed is running on ${dataFolder}: stop it first`);
  try {
    const stamp = stampOf(instantOf(Date.now()));
    const aside = join(backupFolder(dataFolder), `before-restore-${stamp}.sqlite`);
    const wasPresent = await restoreFile(copy, file, aside);
    const { database } = openMigrated(file, stamp);
    endAllAccess(database, instantOf(Date.now()));
    closeDatabase(database);
    const kept = wasPresent ? ` The file that was there is kept as ${aside}.` : "";
    return `The garden is as it was in ${copy}.${kept}`;
  } finally {
    release();
  }
}

try {
  console.log(await main(process.argv.slice(2)));
} catch (fault) {
  console.error(`Nothing was restored: ${fault instanceof Error ? fault.message : fault}`);
  process.exitCode = 1;
}
