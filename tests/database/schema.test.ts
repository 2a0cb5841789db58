import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { is } from "drizzle-orm";
import { getTableConfig, SQLiteTable } from "drizzle-orm/sqlite-core";
import { describe, expect, it } from "vitest";
import * as bedFactTables from "@/db/schema/bed-fact";
import * as gardenTables from "@/db/schema/garden";
import * as importTables from "@/db/schema/import";
import * as observationTables from "@/db/schema/observation";
import * as peopleTables from "@/db/schema/people";
import * as trialTables from "@/db/schema/trial";
import { bedFactKinds, bedFactUnits } from "@/lib/words/bed-fact";
import { causes, removalReasons } from "@/lib/words/cause";
import { harvestParts, observationKinds, observationUnits } from "@/lib/words/observation";
import { personRoles } from "@/lib/words/person";
import { assessmentNames, designs, mainFactors } from "@/lib/words/trial";
import { freshDatabase } from "./fresh-house";

const migrationsFolder = join(import.meta.dirname, "..", "..", "db", "migrations");

describe("the database as migrated", () => {
  // After a new migration: npx vitest run --config tests/vitest.config.ts tests/database/schema.test.ts -u
  it("is what the snapshot says, triggers and indices included", async () => {
    const { database } = freshDatabase();
    const made = database.$client
      .prepare(
        `SELECT type, name, tbl_name AS "table", sql FROM sqlite_master
         WHERE sql IS NOT NULL AND name <> '__drizzle_migrations' ORDER BY type, name`,
      )
      .all();
    await expect(`${JSON.stringify(made, null, 2)}\n`).toMatchFileSnapshot("../../db/schema-snapshot.json");
  });

  it("holds only STRICT tables", () => {
    const { database } = freshDatabase();
    const loose = database.$client
      .prepare("SELECT name FROM pragma_table_list WHERE type = 'table' AND strict = 0 AND schema = 'main'")
      .pluck()
      .all();
    expect(loose.filter((name) => !/^(sqlite_|__drizzle)/.test(String(name)))).toEqual([]);
  });

  it.each([
    ["journal_mode", "wal"],
    ["synchronous", 2],
    ["foreign_keys", 1],
    ["recursive_triggers", 1],
    ["busy_timeout", 5000],
  ])("is opened with %s = %s", (pragma, value) => {
    const { database } = freshDatabase();
    expect(database.$client.pragma(pragma, { simple: true })).toBe(value);
  });

  it("passes SQLite's own checks", () => {
    const { database } = freshDatabase();
    expect(database.$client.pragma("integrity_check", { simple: true })).toBe("ok");
    expect(database.$client.pragma("foreign_key_check")).toEqual([]);
  });
});

describe("the table definitions in db/schema", () => {
  const tables = [gardenTables, trialTables, observationTables, bedFactTables, importTables, peopleTables]
    .flatMap((file) => Object.values(file))
    .filter((value): value is SQLiteTable => is(value, SQLiteTable));

  it.each(tables.map((table) => [getTableConfig(table).name, table] as const))(
    "say of %s what the database says",
    (name, table) => {
      const { database } = freshDatabase();
      const kept = database.$client
        .prepare('SELECT name, type, "notnull" AS required FROM pragma_table_info(?) ORDER BY name')
        .all(name);
      const defined = getTableConfig(table)
        .columns.map((column) => ({
          name: column.name,
          type: column.getSQLType().toUpperCase(),
          required: column.notNull ? 1 : 0,
        }))
        .sort((a, b) => (a.name < b.name ? -1 : 1));
      expect(defined).toEqual(kept);
    },
  );
});

describe("the lists kept as tables", () => {
  it.each([
    ["observation_kind", "kind", observationKinds],
    ["observation_unit", "unit", observationUnits],
    ["harvest_part", "part", harvestParts],
    ["bed_fact_kind", "kind", bedFactKinds],
    ["bed_fact_unit", "unit", bedFactUnits],
    ["assessment_name", "name", assessmentNames],
    ["design", "design", designs],
    ["main_factor", "factor", mainFactors],
    ["amendment_kind", "kind", trialTables.amendmentKinds],
    ["import_kind", "kind", importTables.importKinds],
    ["person_role", "role", personRoles],
  ] as const)("%s holds exactly the words of the vocabulary", (table, column, words) => {
    const { database } = freshDatabase();
    const kept = database.$client.prepare(`SELECT ${column} FROM ${table}`).pluck().all();
    expect(kept.sort()).toEqual([...words].sort());
  });

  it.each([
    ["loss", causes],
    ["removal", removalReasons],
  ] as const)("cause holds the words for %s in their fixed order", (takes, words) => {
    const { database } = freshDatabase();
    const kept = database.$client
      .prepare("SELECT code, words FROM cause WHERE takes = ? ORDER BY position")
      .all(takes);
    expect(kept).toEqual(words);
  });
});

describe("the migrations", () => {
  const files = readdirSync(migrationsFolder).filter((name) => name.endsWith(".sql"));
  const journal = JSON.parse(readFileSync(join(migrationsFolder, "meta", "_journal.json"), "utf8"));

  it("are all in the journal, in order", () => {
    const entries: { idx: number; tag: string; when: number }[] = journal.entries;
    expect(entries.map((entry) => `${entry.tag}.sql`)).toEqual(files.sort());
    expect(entries.map((entry) => entry.idx)).toEqual(entries.map((_, index) => index));
    const times = entries.map((entry) => entry.when);
    expect(times).toEqual([...new Set(times)].sort((a, b) => a - b));
  });

  it.each(files)("%s takes nothing away", (name) => {
    const text = readFileSync(join(migrationsFolder, name), "utf8");
    expect(text).not.toMatch(/\bDROP\s+TABLE\b/i);
    expect(text).not.toMatch(/\bDROP\s+COLUMN\b/i);
  });
});
