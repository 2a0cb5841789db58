import { fileURLToPath } from "node:url";
import { dataFolderPath } from "./data-folder";
import { fillLarge } from "./fill-large";

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
  fillLarge(dataFolder, winters);
  return `${dataFolder} holds the record of ${winters} winters.`;
}

try {
  console.log(main(process.argv.slice(2)));
} catch (fault) {
  console.error(`It was not filled: ${fault instanceof Error ? fault.message : fault}`);
  process.exitCode = 1;
}
