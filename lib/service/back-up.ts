import { execFile } from "node:child_process";
import { readdirSync, rmSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { copyOnline } from "@/db/copy-file";
import type { RecordCount } from "@/db/queries/count-records";
import { backupFolder, backupName, backupsToDrop, leftoversOf } from "./backup-names";
import type { House } from "./house";

const reader = fileURLToPath(new URL("./verify-copy.ts", import.meta.url));

/**
 * Has a copy read through in a process of its own, so that pages go on being answered. Rejects, with the reason as its
 * message, when the copy could not be put back. For the launcher and commands: pages ask through `house.lookAtCopy`.
 *
 * @returns what the copy holds
 */
export async function verifyAside(copy: string): Promise<RecordCount> {
  try {
    const { stdout } = await promisify(execFile)(process.execPath, ["--import", "tsx", reader, copy], {
      cwd: dirname(reader),
    });
    return JSON.parse(stdout);
  } catch (fault) {
    throw new Error((fault as { stderr?: string }).stderr || String(fault), { cause: fault });
  }
}

const underWay = new Map<string, Promise<string>>();

async function makeCopy(house: House): Promise<string> {
  const folder = backupFolder(house.dataFolder);
  const name = backupName(house.now());
  await copyOnline(house.database, join(folder, name), async (copy) => {
    await verifyAside(copy);
  });
  const names = readdirSync(folder);
  for (const old of [...backupsToDrop(names), ...leftoversOf(names, house.now())])
    rmSync(join(folder, old), { force: true });
  return name;
}

/**
 * Copies the garden's file to a dated file in `backups/` while the home goes on, reads the copy through, and only then
 * gives it its name and drops older copies by the rule of `backupsToDrop`. Asked twice at once, it copies once. Rejects
 * when the copy cannot be written or is not whole; older copies stay then, and nothing half-made is left.
 *
 * For the launcher and commands: pages ask through `house.backUp`.
 *
 * @returns the name of the copy
 */
export async function backUp(house: House): Promise<string> {
  const folder = house.dataFolder;
  const begun = underWay.get(folder) ?? makeCopy(house);
  underWay.set(folder, begun);
  try {
    return await begun;
  } finally {
    underWay.delete(folder);
  }
}
