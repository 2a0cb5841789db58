import { cpSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { verifyFile } from "@/db/copy-file";
import { ageOfFile, openMigrated } from "@/db/migrate";
import { closeDatabase, type Database, openReadOnly } from "@/db/open";
import { analyseTrial } from "@/lib/analysis/analyse-trial";
import { amendPlot } from "@/lib/service/amend-plot";
import { checkHouse } from "@/lib/service/check-house";
import type { House } from "@/lib/service/house";
import { recordVerdict } from "@/lib/service/record-verdict";
import { trialRecord } from "@/lib/service/trial-record";
import { trialVerdicts } from "@/lib/service/trial-verdicts";
import { trialView } from "@/lib/service/trial-view";
import type { Day } from "@/lib/words/day";
import { freshFolder, given, houseWithTrial, keptRecord, send, someFact } from "./fresh-house";

const shipped = join(import.meta.dirname, "..", "..", "db", "migrations");
const journal: { entries: { tag: string }[] } = JSON.parse(
  readFileSync(join(shipped, "meta", "_journal.json"), "utf8"),
);

/** The migrations that a version knew whose last was the nth. */
function migrationsUpTo(count: number): string {
  const folder = join(freshFolder(), "migrations");
  mkdirSync(join(folder, "meta"), { recursive: true });
  const entries = journal.entries.slice(0, count);
  writeFileSync(join(folder, "meta", "_journal.json"), JSON.stringify({ ...journal, entries }));
  for (const { tag } of entries) cpSync(join(shipped, `${tag}.sql`), join(folder, `${tag}.sql`));
  return folder;
}

/** A garden with a trial that has a bit of everything: losses, a correction, a filling, picks, an amendment, a verdict. */
function lively() {
  const { house, trial, trialId } = houseWithTrial();
  const [first, second, third] = trial.plots;
  const wrong = someFact(first.id, { amount: 3 });
  send(house, [
    ...trial.plots.map((plot, index) => someFact(plot.id, { amount: index % 3 })),
    wrong,
    someFact(first.id, { replaces: wrong.id, amount: 2 }),
    someFact(second.id, { kind: "loss", cause: "voles in the bank", amount: 1 }),
    someFact(second.id, { kind: "added", amount: 2, cohortOn: "2026-10-05" as Day }),
    ...trial.plots.map((plot, index) =>
      someFact(plot.id, { kind: "harvest", unit: "g", part: "leaf", amount: 100 + 7 * index }),
    ),
  ]);
  given(
    amendPlot(house, {
      trialId,
      plotId: third.id,
      kind: "excluded",
      fromOn: "2026-11-25",
      reason: "Trodden on.",
      by: "Ina",
    }),
  );
  const entryId = trial.entries[1].id;
  given(
    recordVerdict(house, {
      trialId,
      entryId,
      choice: "try once more",
      reason: "One winter only.",
      by: "Ina",
    }),
  );
  return { house, trialId };
}

/** Writes the rows into a file as the earlier version kept them: its own tables, and of each the columns that it had. */
function asKeptBefore(house: House, file: string, folder: string): void {
  const { database } = openMigrated(file, "then", folder);
  const before = database.$client;
  before.pragma("foreign_keys = OFF");
  before.prepare("ATTACH ? AS now").run(house.database.$client.name);
  const tables = before
    .prepare<[], string>(
      "SELECT name FROM main.sqlite_master WHERE type = 'table' AND name NOT GLOB '__drizzle*'",
    )
    .pluck()
    .all();
  before.exec("BEGIN");
  // Facts last: the layout of a trial that has facts is fixed.
  for (const table of tables.toSorted((one) => (one === "observation" ? 1 : -1))) {
    const columns = before.prepare<[], { name: string }>(`PRAGMA main.table_info("${table}")`).all();
    // Lists of words are the version's own.
    if (columns.length === 1) continue;
    const listed = columns.map(({ name }) => `"${name}"`).join(", ");
    before.exec(`INSERT OR IGNORE INTO main."${table}" (${listed}) SELECT ${listed} FROM now."${table}"`);
  }
  before.exec("COMMIT");
  closeDatabase(database);
}

function told(database: Database, base: House, trialId: string) {
  const house: House = { ...base, database };
  const record = trialRecord(house, trialId);
  return {
    record: keptRecord(database),
    findings: record && analyseTrial(record, { withoutRedealing: true }),
    verdicts: trialVerdicts(house, trialId),
    view: trialView(house, trialId),
    wrong: checkHouse(house).wrong,
  };
}

describe("a garden kept by an earlier version", () => {
  const versions = journal.entries.slice(0, -1).map(({ tag }, index) => [tag, index + 1] as const);

  it.each(versions)("whose last migration was %s opens and keeps its figures", (_, count) => {
    const { house, trialId } = lively();
    const file = join(freshFolder(), "garden.sqlite");
    asKeptBefore(house, file, migrationsUpTo(count));
    expect(() => verifyFile(file)).not.toThrow();
    expect(ageOfFile(file)).toBe("older");
    const { database, backup } = openMigrated(file, "now");
    expect(told(database, house, trialId)).toEqual(told(house.database, house, trialId));
    closeDatabase(database);
    expect(() => verifyFile(file)).not.toThrow();
    const kept = openReadOnly(backup ?? "");
    expect(kept.$client.prepare("SELECT count(*) FROM observation").pluck().get()).toBe(28);
    kept.$client.close();
  });
});
