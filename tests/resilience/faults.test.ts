import { execFile, spawn } from "node:child_process";
import { cpSync, existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { promisify } from "node:util";
import { describe, expect, it } from "vitest";
import { verifyFile } from "@/db/copy-file";
import { ageOfFile, openMigrated } from "@/db/migrate";
import { closeDatabase, openReadOnly } from "@/db/open";
import { backUp } from "@/lib/service/back-up";
import { checkHouse } from "@/lib/service/check-house";
import { listBackups } from "@/lib/service/list-backups";
import type { Instant } from "@/lib/words/instant";
import { freshFolder, houseWithTrial, send, someFact } from "../database/fresh-house";

const root = join(import.meta.dirname, "..", "..");

interface Ended {
  code: number;
  said: string[];
}

/** Runs a command of ours on a data folder; all that it said, line by line. */
async function run(command: string, dataFolder: string, shell = ""): Promise<Ended> {
  const node = `'${process.execPath}' --import tsx lib/command/${command}`;
  const told = await promisify(execFile)("bash", ["-c", `${shell}exec ${node}`], {
    cwd: root,
    env: { ...process.env, PORT: "0", PROVING_BED_DATA: dataFolder },
  }).then(
    ({ stdout, stderr }) => ({ code: 0, text: stdout + stderr }),
    (fault: { code: number; stdout: string; stderr: string }) => ({
      code: fault.code,
      text: fault.stdout + fault.stderr,
    }),
  );
  return { code: told.code, said: told.text.split("\n").filter((line) => line !== "") };
}

describe("a full disk", () => {
  it("while facts come in: none is acknowledged that is not kept, and all are taken once there is room", () => {
    const { house, trial } = houseWithTrial();
    const told: unknown[] = [];
    house.report = (fault: unknown): never => told.push(fault) as never;
    const { $client } = house.database;
    const pages = $client.pragma("page_count", { simple: true });
    $client.pragma(`max_page_count = ${pages}`);
    const facts = Array.from({ length: 200 }, (_, index) =>
      someFact(trial.plots[index % trial.plots.length].id, { note: "x".repeat(200) }),
    );
    const replies = facts.flatMap((fact) => send(house, [fact]));
    const recorded = replies.filter((reply) => reply.answer === "recorded").map((reply) => reply.id);
    const later = replies.filter((reply) => reply.answer === "later");
    expect(later.length).toBeGreaterThan(0);
    expect(recorded.length + later.length).toBe(facts.length);
    expect(later[0]).toMatchObject({ why: "it could not be written at home" });
    expect(String(told[0])).toMatch(/full/);
    const kept = () => $client.prepare("SELECT id FROM observation ORDER BY seq").pluck().all();
    expect(kept()).toEqual(recorded);
    expect(checkHouse(house).wrong).toEqual([]);

    $client.pragma("max_page_count = 1000000");
    const again = send(house, facts.slice(0, 100)).concat(send(house, facts.slice(100)));
    expect(again.every((reply) => reply.answer === "recorded" || reply.answer === "already")).toBe(true);
    expect(kept()).toHaveLength(facts.length);
    expect(checkHouse(house).wrong).toEqual([]);
  });

  it("while a backup is made: one line, the older copies stay, nothing half-made is left", async () => {
    const { house } = houseWithTrial();
    const name = await backUp(house);
    closeDatabase(house.database);
    // No file may grow past 64 kB: what a full disk is to a program, without one.
    const { code, said } = await run("backup.ts", house.dataFolder, "ulimit -f 64; ");
    expect(code).toBe(1);
    expect(said).toHaveLength(1);
    expect(said[0]).toMatch(/^Nothing was backed up: /);
    expect(readdirSync(join(house.dataFolder, "backups"))).toEqual([name]);
    expect(() => verifyFile(join(house.dataFolder, "garden.sqlite"))).not.toThrow();
  });

  it("while a copy is put back: one line, and the garden's file stays in its place", async () => {
    const { house, trial } = houseWithTrial();
    const name = await backUp(house);
    send(house, [someFact(trial.plots[0].id)]);
    closeDatabase(house.database);
    const file = join(house.dataFolder, "garden.sqlite");
    const before = readFileSync(file);
    const copy = join(house.dataFolder, "backups", name);
    const { code, said } = await run(`restore.ts '${copy}'`, house.dataFolder, "ulimit -f 64; ");
    expect(code).toBe(1);
    expect(said).toHaveLength(1);
    expect(said[0]).toMatch(/^Nothing was restored: /);
    expect(readFileSync(file).equals(before)).toBe(true);
  });
});

describe("a folder that cannot be written", () => {
  it("stops the start with one line", async () => {
    const { code, said } = await run("start.ts", "/proc");
    expect(code).toBe(1);
    expect(said).toHaveLength(1);
    expect(said[0]).toMatch(/^Proving Bed cannot start: cannot write to the data folder \/proc/);
  });
});

describe("a damaged file", () => {
  it("stops the start with one line that names the last good backup, and is left as it is", async () => {
    const { house } = houseWithTrial();
    const name = await backUp(house);
    closeDatabase(house.database);
    const file = join(house.dataFolder, "garden.sqlite");
    const bytes = readFileSync(file);
    bytes.fill(0xff, bytes.length / 2, bytes.length / 2 + 16_384);
    writeFileSync(file, bytes);
    const { code, said } = await run("start.ts", house.dataFolder);
    expect(code).toBe(1);
    expect(said).toHaveLength(1);
    expect(said[0]).toMatch(/^Proving Bed cannot start: the garden's file .* is damaged/);
    expect(said[0]).toContain(`npm run restore -- ${join(house.dataFolder, "backups", name)}`);
    expect(readFileSync(file).equals(bytes)).toBe(true);
  });
});

describe("a clock that jumps", () => {
  it("forth and back loses no fact, no order and no backup", async () => {
    const { house, trial } = houseWithTrial();
    const facts = Array.from({ length: 6 }, (_, index) => someFact(trial.plots[0].id, { amount: index % 3 }));
    const clocks = ["2026-11-25", "2099-01-01", "2026-11-26", "1999-12-31", "2026-11-27", "2026-11-28"];
    const names: string[] = [];
    for (const [index, day] of clocks.entries()) {
      house.at = `${day}T09:00:00.000Z` as Instant;
      expect(send(house, [facts[index]])).toMatchObject([{ answer: "recorded" }]);
      names.push(await backUp(house));
    }
    const kept = house.database.$client.prepare("SELECT id FROM observation ORDER BY seq").pluck().all();
    expect(kept).toEqual(facts.map((fact) => fact.id));
    expect(checkHouse(house).wrong).toEqual([]);
    expect(listBackups(house).map((copy) => copy.name)).toEqual(names.toSorted().reverse());
  });
});

/** The shipped migrations and one more that takes its time. */
function slowMigrations(): string {
  const folder = join(freshFolder(), "migrations");
  cpSync(join(root, "db/migrations"), folder, { recursive: true });
  const journalFile = join(folder, "meta/_journal.json");
  const journal = JSON.parse(readFileSync(journalFile, "utf8"));
  const last = journal.entries.at(-1);
  journal.entries.push({ ...last, idx: last.idx + 1, when: last.when + 1, tag: "9999_slow" });
  writeFileSync(journalFile, JSON.stringify(journal));
  writeFileSync(
    join(folder, "9999_slow.sql"),
    `ALTER TABLE crop ADD COLUMN note TEXT;
--> statement-breakpoint
CREATE TABLE filler (n INTEGER NOT NULL) STRICT;
--> statement-breakpoint
INSERT INTO filler WITH RECURSIVE count(n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM count WHERE n < 1500000)
  SELECT n FROM count;`,
  );
  return folder;
}

/** Brings a file up in a process that is killed so many milliseconds after the copy before the update was made. */
async function migrateKilled(file: string, migrations: string, afterMs: number): Promise<string> {
  const migrator = join(root, "tests/resilience/migrator.ts");
  const child = spawn(process.execPath, ["--import", "tsx", migrator, file, migrations], {
    cwd: root,
    stdio: ["ignore", "pipe", "inherit"],
  });
  let said = "";
  child.stdout.on("data", (piece) => {
    said += piece;
  });
  const ended = new Promise<void>((resolve) => child.once("close", () => resolve()));
  const backups = join(file, "..", "backups");
  const isCopied = () => existsSync(backups) && readdirSync(backups).some((name) => name.endsWith(".sqlite"));
  const look = setInterval(() => {
    if (!isCopied()) return;
    clearInterval(look);
    setTimeout(() => child.kill("SIGKILL"), afterMs);
  }, 2);
  await ended;
  clearInterval(look);
  return said;
}

describe("power lost in the middle of a migration", () => {
  it.each([0, 40, 150])(
    "%i ms into it leaves the file as it was, with its copy, and the next start does it",
    async (afterMs) => {
      const { house, trial } = houseWithTrial();
      const facts = trial.plots.map((plot) => someFact(plot.id));
      send(house, facts);
      closeDatabase(house.database);
      const file = join(house.dataFolder, "garden.sqlite");
      const migrations = slowMigrations();
      expect(await migrateKilled(file, migrations, afterMs)).toBe("begin\n");
      expect(ageOfFile(file)).toBe("current");
      expect(() => verifyFile(file)).not.toThrow();
      const [copy] = readdirSync(join(house.dataFolder, "backups")).filter((name) =>
        name.endsWith(".sqlite"),
      );
      const kept = openReadOnly(join(house.dataFolder, "backups", copy));
      expect(kept.$client.prepare("SELECT count(*) FROM observation").pluck().get()).toBe(facts.length);
      kept.$client.close();
      const { database } = openMigrated(file, "again", migrations);
      expect(database.$client.prepare("SELECT count(*) FROM filler").pluck().get()).toBe(1_500_000);
      expect(database.$client.prepare("SELECT count(*) FROM observation").pluck().get()).toBe(facts.length);
      closeDatabase(database);
    },
  );
});
