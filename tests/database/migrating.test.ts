import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { ageOfFile, NewerDatabaseError, openMigrated, UnreadableDatabaseError } from "@/db/migrate";
import { closeDatabase, openReadOnly } from "@/db/open";
import { freshFolder } from "./fresh-house";

const shipped = join(import.meta.dirname, "..", "..", "db", "migrations");

/** The shipped migrations and one more, as a later version of the program would bring them. */
function laterMigrations(sql: string): string {
  const folder = join(freshFolder(), "migrations");
  cpSync(shipped, folder, { recursive: true });
  const journalFile = join(folder, "meta", "_journal.json");
  const journal = JSON.parse(readFileSync(journalFile, "utf8"));
  const last = journal.entries.at(-1);
  journal.entries.push({ ...last, idx: last.idx + 1, when: last.when + 1, tag: "9999_later" });
  writeFileSync(journalFile, JSON.stringify(journal));
  writeFileSync(join(folder, "9999_later.sql"), sql);
  return folder;
}

function filledFile(): string {
  const file = join(freshFolder(), "garden.sqlite");
  const { database } = openMigrated(file, "first");
  database.$client.exec("INSERT INTO crop (id, name) VALUES ('c', 'leeks')");
  closeDatabase(database);
  return file;
}

describe("a garden file", () => {
  it("that is not there is made, with nothing to back up", () => {
    const file = join(freshFolder(), "garden.sqlite");
    expect(ageOfFile(file)).toBe("absent");
    const { database, backup } = openMigrated(file, "first");
    closeDatabase(database);
    expect(backup).toBeNull();
    expect(ageOfFile(file)).toBe("current");
  });

  it("that is current is opened as it is, with no backup", () => {
    const file = filledFile();
    const { database, backup } = openMigrated(file, "second");
    closeDatabase(database);
    expect(backup).toBeNull();
    expect(existsSync(join(file, "..", "backups"))).toBe(false);
  });

  it("that is older is copied first, then brought up; the copy is whole", () => {
    const file = filledFile();
    const folder = laterMigrations("ALTER TABLE crop ADD COLUMN note TEXT;");
    expect(ageOfFile(file, folder)).toBe("older");
    const { database, backup } = openMigrated(file, "20261125", folder);
    expect(database.$client.prepare("SELECT note FROM crop").all()).toEqual([{ note: null }]);
    closeDatabase(database);
    expect(backup).toMatch(/before-update-20261125\.sqlite$/);
    const copy = openReadOnly(backup as string);
    expect(copy.$client.prepare("SELECT name FROM crop").all()).toEqual([{ name: "leeks" }]);
    expect(copy.$client.pragma("integrity_check", { simple: true })).toBe("ok");
    copy.$client.close();
  });

  it("is left as it was when a migration fails half way, and the copy is there", () => {
    const file = filledFile();
    const folder = laterMigrations(
      "ALTER TABLE crop ADD COLUMN note TEXT;\n--> statement-breakpoint\nALTER TABLE nothing ADD COLUMN x TEXT;",
    );
    const before = readFileSync(file);
    expect(() => openMigrated(file, "x", folder)).toThrow(/Failed to run the query/);
    expect(ageOfFile(file)).toBe("current");
    expect(readFileSync(file).equals(before)).toBe(true);
    expect(readdirSync(join(file, "..", "backups"))).toEqual(["before-update-x.sqlite"]);
    const { database } = openMigrated(file, "again");
    expect(database.$client.prepare("SELECT * FROM crop").get()).not.toHaveProperty("note");
    closeDatabase(database);
  });

  it("from a newer version is refused in one line and not a byte of it is changed", () => {
    const file = filledFile();
    const { database } = openMigrated(file, "x", laterMigrations("ALTER TABLE crop ADD COLUMN note TEXT;"));
    closeDatabase(database);
    const before = readFileSync(file);
    expect(ageOfFile(file)).toBe("newer");
    expect(() => openMigrated(file, "y")).toThrow(NewerDatabaseError);
    expect(() => openMigrated(file, "y")).toThrow(/^[^\n]+newer version[^\n]+$/);
    expect(readFileSync(file).equals(before)).toBe(true);
  });

  it.each([
    ["text", "this is a letter, not a garden, and it is long enough to be looked at as a header by SQLite"],
    ["a cut-off file", ""],
  ])("that is %s is refused or taken as empty, never overwritten", (_, text) => {
    const file = join(freshFolder(), "garden.sqlite");
    writeFileSync(file, text);
    if (text === "") expect(ageOfFile(file)).toBe("older");
    else expect(() => openMigrated(file, "x")).toThrow(UnreadableDatabaseError);
    expect(readFileSync(file, "utf8")).toBe(text);
  });

  it("that is a folder is refused", () => {
    const file = join(freshFolder(), "garden.sqlite");
    mkdirSync(file);
    expect(() => openMigrated(file, "x")).toThrow(UnreadableDatabaseError);
  });
});
