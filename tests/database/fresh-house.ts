import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach } from "vitest";
import { openMigrated } from "@/db/migrate";
import { closeDatabase, type Database } from "@/db/open";

const opened: { database: Database; folder: string }[] = [];

/** A folder of its own for one test, gone when the test is over. */
export function freshFolder(): string {
  return mkdtempSync(join(tmpdir(), "proving-bed-"));
}

/** A garden file of its own for one test, made by the real migrations and opened by the real opener. */
export function freshDatabase(): { database: Database; folder: string } {
  const folder = freshFolder();
  const { database } = openMigrated(join(folder, "garden.sqlite"), "test");
  opened.push({ database, folder });
  return { database, folder };
}

afterEach(() => {
  for (const { database, folder } of opened.splice(0)) {
    if (database.$client.open) closeDatabase(database);
    rmSync(folder, { recursive: true, force: true });
  }
});
