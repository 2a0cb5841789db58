import { statSync } from "node:fs";
import { join } from "node:path";
import { openReadOnly } from "@/db/open";
import { backupFolder } from "@/lib/service/backup-names";
import { listBackups } from "@/lib/service/list-backups";
import { CannotStartError } from "./data-folder";

/** Up to this size a file is read through before the pages are served; a longer one is by each day's backup. */
const mostBytes = 300_000_000;

/** What SQLite finds wrong in a file, in its first words; null when nothing is. */
function damageIn(file: string): string | null {
  const database = openReadOnly(file);
  try {
    const [first] = database.$client.pragma("quick_check(1)") as { quick_check: string }[];
    return first.quick_check === "ok"
      ? null
      : first.quick_check.split("\n").slice(0, 2).join(" ").slice(0, 200);
  } catch (fault) {
    return fault instanceof Error ? fault.message : String(fault);
  } finally {
    database.$client.close();
  }
}

/** Refuses to start on a garden's file that is damaged, and names the last good backup; the file is left as it is. */
export function refuseDamaged(dataFolder: string, file: string): void {
  const found = statSync(file, { throwIfNoEntry: false });
  if (!found || found.size > mostBytes) return;
  const damage = damageIn(file);
  if (damage === null) return;
  const [last] = listBackups({ dataFolder });
  const way = last
    ? `put the last good backup back with npm run restore -- ${join(backupFolder(dataFolder), last.name)}`
    : "there is no backup of it";
  throw new CannotStartError(
    `the garden's file ${file} is damaged (${damage}); it was left as it is; ${way}`,
  );
}
