import { existsSync } from "node:fs";
import { basename, join } from "node:path";
import { openMigrated } from "@/db/migrate";
import { closeDatabase, openDatabase } from "@/db/open";
import { endAllAccess } from "@/db/queries/end-all-access";
import { restoreFile } from "@/db/restore-file";
import { backupFolder, stampOf } from "@/lib/service/backup-names";
import { forgetUploads } from "@/lib/service/copy-files";
import type { House } from "@/lib/service/house";
import type { Standstill } from "./standstill";

/** Reading out a long file may take a while; past this it is not waited for. */
const waitMs = 30_000;

/** SQLite takes the log away with the last connection: where it stays, somebody else has the file open. */
function isOpenElsewhere(file: string): boolean {
  closeDatabase(openDatabase(file));
  return existsSync(`${file}-wal`);
}

/**
 * Puts a copy in the place of the garden's file while the home runs: everything stands still, the file is closed, checked
 * copies change places as in `npm run restore`, and the file is opened again. Whatever goes wrong, the garden's file is the
 * one that it was, opened again. Sessions and pairings of the copy are ended.
 *
 * @param stop is called when not even the file that was there can be opened again
 */
export function putBack(house: House, still: Standstill, copy: string, stop: (fault: unknown) => void): void {
  const file = house.database.$client.name;
  const stamp = stampOf(house.now());
  const aside = join(backupFolder(house.dataFolder), `before-restore-${stamp}.sqlite`);
  const end = (fault: string | null) => {
    house.lastPutBack = {
      at: house.now(),
      copy: basename(copy),
      fault,
      aside: fault === null ? basename(aside) : null,
    };
  };

  async function change(): Promise<void> {
    let fault: string | null = null;
    closeDatabase(house.database);
    try {
      if (isOpenElsewhere(file)) throw new Error("another program has the garden's file open");
      await restoreFile(copy, file, aside);
    } catch (cause) {
      house.report?.(cause);
      fault = cause instanceof Error ? cause.message : String(cause);
    }
    try {
      house.database = openMigrated(file, stamp).database;
    } catch (cause) {
      return stop(cause);
    }
    if (fault === null) {
      endAllAccess(house.database, house.now());
      forgetUploads(house);
    }
    end(fault);
  }

  house.lastPutBack = null;
  still.during(change, waitMs).then(
    (inTime) => {
      if (!inTime) end("something else was being read out or taken in; try again when it is done");
    },
    (fault: unknown) => {
      house.report?.(fault);
      end(fault instanceof Error ? fault.message : String(fault));
    },
  );
}
