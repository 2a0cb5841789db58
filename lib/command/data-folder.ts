import { accessSync, constants, existsSync, mkdirSync } from "node:fs";
import { join, resolve } from "node:path";

/** Why the program cannot start, in one line for the person who started it. */
export class CannotStartError extends Error {
  override name = "CannotStartError";
}

/** The folder for the garden's file: `PROVING_BED_DATA`, or `data` under the project. */
export function dataFolderPath(root: string, environment: NodeJS.ProcessEnv): string {
  return environment.PROVING_BED_DATA ? resolve(environment.PROVING_BED_DATA) : join(root, "data");
}

/** Makes the data folder when it is not there, or says why it or the garden's file in it cannot be used. */
export function readyDataFolder(folder: string, file: string): void {
  try {
    mkdirSync(folder, { recursive: true });
    accessSync(folder, constants.R_OK | constants.W_OK | constants.X_OK);
    if (existsSync(file)) accessSync(file, constants.R_OK | constants.W_OK);
  } catch (cause) {
    const code = (cause as NodeJS.ErrnoException).code;
    throw new CannotStartError(`cannot write to the data folder ${folder} (${code})`, { cause });
  }
}
