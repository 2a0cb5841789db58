import { existsSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { ageOfFile } from "@/db/migrate";
import { openReadOnly } from "@/db/open";
import { checkHouse } from "@/lib/service/check-house";
import { checkPictures } from "@/lib/service/check-pictures";
import { dataFolderPath } from "./data-folder";
import { liveHouse } from "./live-house";

const root = fileURLToPath(new URL("../..", import.meta.url));
const dataFolder = dataFolderPath(root, process.env);
const file = join(dataFolder, "garden.sqlite");

/** Reads the whole file and says what is wrong with it, line by line. */
function faultsIn(): string[] {
  const age = ageOfFile(file);
  if (age !== "current") return [`${file} is ${age} than this program: start it once, then check`];
  const database = openReadOnly(file);
  const pages = database.$client.pragma("integrity_check") as { integrity_check: string }[];
  const dangling = database.$client.pragma("foreign_key_check") as { table: string; rowid: number }[];
  const house = liveHouse(database, dataFolder);
  const { cohorts, wrong } = checkHouse(house);
  const { pictures, wrong: wrongPictures } = checkPictures(house);
  database.$client.close();
  console.log(`${cohorts} stands recomputed from their facts.`);
  if (pictures > 0) console.log(`${pictures} pictures read against their hashes.`);
  return [
    ...pages.map((row) => row.integrity_check).filter((words) => words !== "ok"),
    ...dangling.map((row) => `${row.table} row ${row.rowid} names something that is not there`),
    ...wrong.map(
      ({ cohortId, kept, told }) =>
        `stand of ${cohortId}: kept ${kept?.standing ?? "nothing"}, the facts say ${told.standing}`,
    ),
    ...wrongPictures,
  ];
}

if (!existsSync(file)) {
  console.log(`There is no garden at ${file} yet.`);
} else {
  const faults = faultsIn();
  for (const fault of faults) console.error(fault);
  console.log(faults.length === 0 ? "Nothing is wrong." : `${faults.length} things are wrong.`);
  process.exitCode = faults.length === 0 ? 0 : 1;
}
