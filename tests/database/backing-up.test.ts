import { execFile } from "node:child_process";
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { promisify } from "node:util";
import { describe, expect, it } from "vitest";
import { BrokenFileError, copyOnline, verifyFile } from "@/db/copy-file";
import { takeLock } from "@/db/lock";
import { NewerDatabaseError, openMigrated, UnreadableDatabaseError } from "@/db/migrate";
import { closeDatabase, inOneAct, openDatabase, openReadOnly } from "@/db/open";
import { restoreFile } from "@/db/restore-file";
import { backUp } from "@/lib/service/back-up";
import { checkHouse } from "@/lib/service/check-house";
import { gardenView } from "@/lib/service/garden-view";
import { listBackups } from "@/lib/service/list-backups";
import { trialFindings } from "@/lib/service/trial-findings";
import type { Instant } from "@/lib/words/instant";
import { loadHazelClough } from "@/seed/hazel-clough";
import { freshFolder, freshHouse, houseWithTrial, keptRecord, send, someFact } from "./fresh-house";

const root = join(import.meta.dirname, "..", "..");

/** A house with a trial of which something was seen, and one copy of it. */
async function backedUp() {
  const { house, trial, trialId } = houseWithTrial();
  send(
    house,
    trial.plots.map((plot) => someFact(plot.id)),
  );
  const name = await backUp(house);
  return { house, trial, trialId, copy: join(house.dataFolder, "backups", name) };
}

/** A whole copy damaged in the middle of its second half. */
function damage(file: string): void {
  const bytes = readFileSync(file);
  bytes.fill(0xff, bytes.length / 2, bytes.length / 2 + 8_192);
  writeFileSync(file, bytes);
}

function restoreByCommand(dataFolder: string, copy: string) {
  return promisify(execFile)(process.execPath, ["--import", "tsx", "lib/command/restore.ts", copy], {
    cwd: root,
    env: { ...process.env, PROVING_BED_DATA: dataFolder },
  });
}

describe("a backup", () => {
  it("is a dated file that holds everything, is whole, and is the last good one", async () => {
    const { house, copy } = await backedUp();
    const opened = openReadOnly(copy);
    expect(keptRecord(opened)).toEqual(keptRecord(house.database));
    opened.$client.close();
    expect(() => verifyFile(copy)).not.toThrow();
    expect(listBackups(house)).toMatchObject([
      { name: "garden-2026-11-25T09-00-00-000Z.sqlite", madeAt: "2026-11-25T09:00:00.000Z" },
    ]);
  });

  it("asked for twice at once is made once", async () => {
    const { house } = houseWithTrial();
    const [one, other] = await Promise.all([backUp(house), backUp(house)]);
    expect(one).toBe(other);
    expect(readdirSync(join(house.dataFolder, "backups"))).toEqual([one]);
  });

  it("thins out the older copies, and leaves alone what is none of them", async () => {
    const { house } = await backedUp();
    writeFileSync(join(house.dataFolder, "backups", "before-update-1.sqlite"), "");
    house.at = "2026-11-25T21:00:00.000Z" as Instant;
    const later = await backUp(house);
    expect(readdirSync(join(house.dataFolder, "backups")).sort()).toEqual(["before-update-1.sqlite", later]);
  });

  it("that fails its check gets no name and leaves nothing", async () => {
    const { house } = houseWithTrial();
    const file = join(house.dataFolder, "backups", "copy.sqlite");
    const refusing = copyOnline(house.database, file, (partial) => {
      damage(partial);
      verifyFile(partial);
    });
    await expect(refusing).rejects.toThrow();
    expect(readdirSync(join(house.dataFolder, "backups"))).toEqual([]);
  });
});

describe("a restore", () => {
  it("of the whole demo garden into another folder gives every trial's figures again", async () => {
    const house = freshHouse();
    inOneAct(house.database, () => loadHazelClough(house));
    const copy = join(house.dataFolder, "backups", await backUp(house));
    const file = join(freshFolder(), "garden.sqlite");
    await restoreFile(copy, file, `${file}.aside`);
    const { database } = openMigrated(file, "drill");
    expect(keptRecord(database)).toEqual(keptRecord(house.database));
    const { trials } = gardenView(house);
    expect(trials.length).toBeGreaterThan(3);
    for (const { id } of trials)
      expect(trialFindings({ ...house, database }, id)).toEqual(trialFindings(house, id));
    expect(checkHouse({ ...house, database }).wrong).toEqual([]);
    closeDatabase(database);
  });

  it("into another folder gives the same record and the same figures", async () => {
    const { house, trialId, copy } = await backedUp();
    const file = join(freshFolder(), "garden.sqlite");
    expect(await restoreFile(copy, file, `${file}.aside`)).toBe(false);
    const { database } = openMigrated(file, "test");
    expect(keptRecord(database)).toEqual(keptRecord(house.database));
    expect(trialFindings({ ...house, database }, trialId)).toEqual(trialFindings(house, trialId));
    closeDatabase(database);
  });

  it("keeps the present file aside, with what its log alone held", async () => {
    const { house, trial, copy } = await backedUp();
    const file = join(house.dataFolder, "garden.sqlite");
    send(house, [someFact(trial.plots[0].id, { amount: 1 })]);
    const before = keptRecord(house.database);
    house.database.$client.close();
    const aside = join(house.dataFolder, "backups", "before-restore-1.sqlite");
    expect(await restoreFile(copy, file, aside)).toBe(true);
    const kept = openReadOnly(aside);
    expect(keptRecord(kept)).toEqual(before);
    kept.$client.close();
    const restored = openReadOnly(file);
    expect(restored.$client.prepare("SELECT count(*) FROM observation").pluck().get()).toBe(
      trial.plots.length,
    );
    restored.$client.close();
  });

  it("keeps aside even a present file that is damaged", async () => {
    const { copy } = await backedUp();
    const folder = freshFolder();
    const file = join(folder, "garden.sqlite");
    writeFileSync(file, "not a garden any more");
    await restoreFile(copy, file, join(folder, "aside.sqlite"));
    expect(readFileSync(join(folder, "aside.sqlite"), "utf8")).toBe("not a garden any more");
    expect(() => verifyFile(file)).not.toThrow();
  });

  it("refuses a damaged copy, another program's file and a newer version, and leaves the present file alone", async () => {
    const { house, copy } = await backedUp();
    const folder = freshFolder();
    const file = join(folder, "garden.sqlite");
    writeFileSync(file, "present");
    const refused = (from: string) => expect(restoreFile(from, file, join(folder, "aside.sqlite"))).rejects;

    const newer = join(house.dataFolder, "newer.sqlite");
    await copyOnline(house.database, newer, () => {});
    const opened = openDatabase(newer);
    opened.$client.exec("UPDATE __drizzle_migrations SET created_at = created_at + 1000000000000");
    closeDatabase(opened);
    await refused(newer).toThrow(NewerDatabaseError);

    const stranger = join(house.dataFolder, "stranger.sqlite");
    const other = openDatabase(stranger);
    other.$client.exec("CREATE TABLE thing (id TEXT)");
    closeDatabase(other);
    await refused(stranger).toThrow(UnreadableDatabaseError);

    damage(copy);
    await refused(copy).toThrow();
    expect(readFileSync(file, "utf8")).toBe("present");
    expect(readdirSync(folder)).toEqual(["garden.sqlite"]);
  });

  it("names what dangles in a copy that SQLite finds whole", async () => {
    const { copy } = await backedUp();
    const opened = openDatabase(copy);
    opened.$client.pragma("foreign_keys = OFF");
    opened.$client.exec("INSERT INTO variety (id, crop_id, name) VALUES ('v', 'nowhere', 'Wick Hill')");
    closeDatabase(opened);
    expect(() => verifyFile(copy)).toThrow(BrokenFileError);
  });

  it("by the command refuses while a home holds the lock, and works when it does not", async () => {
    const { copy } = await backedUp();
    const folder = freshFolder();
    mkdirSync(folder, { recursive: true });
    const release = takeLock(join(folder, "garden.lock"));
    await expect(restoreByCommand(folder, copy)).rejects.toMatchObject({
      stderr: expect.stringContaining("stop it first"),
    });
    expect(existsSync(join(folder, "garden.sqlite"))).toBe(false);
    release?.();
    expect((await restoreByCommand(folder, copy)).stdout).toContain("The garden is as it was");
    expect(() => verifyFile(join(folder, "garden.sqlite"))).not.toThrow();
  });
});
