import { type ChildProcess, spawn } from "node:child_process";
import { createHash } from "node:crypto";
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { takeLock } from "@/db/lock";
import { openMigrated } from "@/db/migrate";
import { closeDatabase, openDatabase } from "@/db/open";
import { contractVersion } from "@/lib/sync/contract";
import type { Observation } from "@/lib/words/observation";
import { freshFolder, houseWithTrial, someFact } from "../database/fresh-house";

const root = join(import.meta.dirname, "..", "..");
const readyWithinMs = 240_000;
/** `npm run kills` asks for more. */
const serverKills = Number(process.env.PROVING_BED_SERVER_KILLS ?? 1);

interface Launched {
  child: ChildProcess;
  said: string[];
  ended: Promise<{ code: number | null; signal: NodeJS.Signals | null }>;
  /** The address once it is printed. */
  address: Promise<string>;
}

function launch(dataFolder: string, environment: Record<string, string> = {}, args: string[] = []): Launched {
  const child = spawn(process.execPath, ["--import", "tsx", join(root, "lib/command/start.ts"), ...args], {
    cwd: root,
    env: { ...process.env, PORT: "0", PROVING_BED_DATA: dataFolder, ...environment },
    stdio: ["ignore", "pipe", "pipe"],
  });
  const said: string[] = [];
  let text = "";
  const address = new Promise<string>((resolve, reject) => {
    for (const stream of [child.stdout, child.stderr])
      stream.on("data", (piece) => {
        text += piece;
        said.splice(0, said.length, ...text.split("\n").filter((line) => line !== ""));
        const printed = /Proving Bed is at (\S+)/.exec(text)?.[1];
        if (printed) resolve(printed);
      });
    child.once("close", () => reject(new Error(`it ended before it was ready:\n${text}`)));
  });
  // Most launches here are meant to end; nobody waits for their address.
  address.catch(() => {});
  const ended = new Promise<{ code: number | null; signal: NodeJS.Signals | null }>((resolve) =>
    child.once("close", (code, signal) => resolve({ code, signal })),
  );
  return { child, said, ended, address };
}

function hashOf(bytes: Buffer): string {
  return bytes.length === 0 ? "" : createHash("sha256").update(bytes).digest("hex");
}

/** Every file under a folder with a hash of its bytes, to see that nothing was touched; the lock's own file apart. */
function contents(folder: string): Record<string, string> {
  return Object.fromEntries(
    readdirSync(folder, { recursive: true, encoding: "utf8" })
      .filter((name) => name !== "garden.lock" && statSync(join(folder, name)).isFile())
      .map((name) => [name, hashOf(readFileSync(join(folder, name)))]),
  );
}

async function expectOneLine(launched: Launched, line: RegExp): Promise<void> {
  expect(await launched.ended).toEqual({ code: 1, signal: null });
  expect(launched.said).toHaveLength(1);
  expect(launched.said[0]).toMatch(line);
}

function gardenWithTrial(): { dataFolder: string; fact: () => Observation } {
  const { house, trial } = houseWithTrial();
  closeDatabase(house.database);
  return { dataFolder: house.dataFolder, fact: () => someFact(trial.plots[0].id) };
}

function post(address: string, facts: Observation[]): Promise<Response> {
  return fetch(`${address}/api/observations`, {
    method: "POST",
    headers: { Origin: address, "Content-Type": "application/json" },
    body: JSON.stringify({ contract: contractVersion, facts }),
  });
}

function factsIn(dataFolder: string): unknown[] {
  const database = openDatabase(join(dataFolder, "garden.sqlite"));
  try {
    expect(database.$client.pragma("integrity_check", { simple: true })).toBe("ok");
    return database.$client.prepare("SELECT id FROM observation ORDER BY seq").pluck().all();
  } finally {
    closeDatabase(database);
  }
}

describe("what stands in the way is one line, exit code 1, and nothing touched", () => {
  it("a second server on the same file", async () => {
    const { dataFolder } = gardenWithTrial();
    const release = takeLock(join(dataFolder, "garden.lock"));
    const before = contents(dataFolder);
    await expectOneLine(launch(dataFolder), /^Proving Bed cannot start: another Proving Bed is running on /);
    expect(contents(dataFolder)).toEqual(before);
    release?.();
  });

  it("a port that is taken", async () => {
    const { dataFolder } = gardenWithTrial();
    const before = contents(dataFolder);
    const other = createServer();
    await new Promise<void>((resolve) => other.listen(0, "127.0.0.1", resolve));
    const port = String((other.address() as AddressInfo).port);
    await expectOneLine(
      launch(dataFolder, { PORT: port }),
      new RegExp(`^Proving Bed cannot start: port ${port} is taken`),
    );
    await new Promise((resolve) => other.close(resolve));
    expect(contents(dataFolder)).toEqual(before);
  });

  it.each(["http", "-1", "65536", "80.5"])("a port that is none: %s", async (port) => {
    const folder = freshFolder();
    await expectOneLine(launch(folder, { PORT: port }), /^Proving Bed cannot start: PORT must be a number/);
    expect(readdirSync(folder)).toEqual([]);
  });

  it("a port for phones that is taken, or a certificate that is named by half", async () => {
    const { dataFolder } = gardenWithTrial();
    const before = contents(dataFolder);
    const other = createServer();
    await new Promise<void>((resolve) => other.listen(0, resolve));
    const port = String((other.address() as AddressInfo).port);
    await expectOneLine(
      launch(dataFolder, { PROVING_BED_CERT: "/nowhere.crt" }, ["--phone"]),
      /^Proving Bed cannot start: PROVING_BED_CERT and PROVING_BED_KEY are named together/,
    );
    await expectOneLine(
      launch(dataFolder, { PROVING_BED_PHONE_PORT: port }, ["--phone"]),
      // Where the machine is on no home network that is what is said.
      new RegExp(`^Proving Bed cannot start: (port ${port} is taken|this computer has no address)`),
    );
    await new Promise((resolve) => other.close(resolve));
    expect(contents(dataFolder)).toEqual(before);
  });

  it("a data folder that cannot be made", async () => {
    const file = join(freshFolder(), "a-file");
    writeFileSync(file, "x");
    await expectOneLine(
      launch(join(file, "data")),
      /^Proving Bed cannot start: cannot write to the data folder /,
    );
  });

  it("a file from a newer version", async () => {
    const dataFolder = freshFolder();
    const migrations = join(freshFolder(), "migrations");
    cpSync(join(root, "db/migrations"), migrations, { recursive: true });
    const journalFile = join(migrations, "meta/_journal.json");
    const journal = JSON.parse(readFileSync(journalFile, "utf8"));
    const last = journal.entries.at(-1);
    journal.entries.push({ ...last, idx: last.idx + 1, when: last.when + 1, tag: "9999_later" });
    writeFileSync(journalFile, JSON.stringify(journal));
    writeFileSync(join(migrations, "9999_later.sql"), "ALTER TABLE crop ADD COLUMN note TEXT;");
    closeDatabase(openMigrated(join(dataFolder, "garden.sqlite"), "x", migrations).database);
    const before = contents(dataFolder);
    await expectOneLine(launch(dataFolder), /^Proving Bed cannot start: .*newer version of Proving Bed/);
    expect(contents(dataFolder)).toEqual(before);
  });

  it("a file that is no garden", async () => {
    const dataFolder = freshFolder();
    writeFileSync(
      join(dataFolder, "garden.sqlite"),
      "a letter, not a garden; long enough for SQLite to look at",
    );
    await expectOneLine(launch(dataFolder), /^Proving Bed cannot start: .*cannot be read as a garden file/);
  });

  it("a lock that is a folder", async () => {
    const dataFolder = freshFolder();
    mkdirSync(join(dataFolder, "garden.lock"));
    await expectOneLine(launch(dataFolder), /^Proving Bed cannot start: cannot write to the data folder /);
  });
});

describe("a running server", () => {
  it(
    "on SIGTERM finishes what it has begun, writes the log back, frees the lock and exits 0",
    async () => {
      const { dataFolder, fact } = gardenWithTrial();
      const launched = launch(dataFolder);
      const address = await launched.address;
      const first = fact();
      const last = Array.from({ length: 100 }, fact);
      expect(await (await post(address, [first])).json()).toMatchObject({
        replies: [{ answer: "recorded" }],
      });
      const onTheWay = post(address, last);
      launched.child.kill("SIGTERM");
      // It was either taken whole and answered, or never begun: the sender keeps what has no answer.
      const answered = await onTheWay.then(
        async (answer) =>
          ((await answer.json()) as { replies: { id: string }[] }).replies.map((reply) => reply.id),
        () => [],
      );
      expect(await launched.ended).toEqual({ code: 0, signal: null });
      expect(existsSync(join(dataFolder, "garden.sqlite-wal"))).toBe(false);
      expect(factsIn(dataFolder)).toEqual([first.id, ...answered]);
      const release = takeLock(join(dataFolder, "garden.lock"));
      expect(release).not.toBeNull();
      release?.();
    },
    readyWithinMs,
  );

  it.each(Array.from({ length: serverKills }, (_, kill) => [kill + 1, 30 - (kill % 25)]))(
    "killed outright for the %ith time, after %i facts, leaves every acknowledged one on the disk and the lock free",
    async (_, count) => {
      const { dataFolder, fact } = gardenWithTrial();
      const launched = launch(dataFolder);
      const address = await launched.address;
      const facts = Array.from({ length: count }, fact);
      const acknowledged: string[] = [];
      for (const one of facts) {
        const reply = (await (await post(address, [one])).json()) as {
          replies: { id: string; answer: string }[];
        };
        if (reply.replies[0].answer === "recorded") acknowledged.push(reply.replies[0].id);
      }
      const onTheWay = post(address, [fact()]).catch(() => null);
      launched.child.kill("SIGKILL");
      await Promise.all([launched.ended, onTheWay]);
      const release = takeLock(join(dataFolder, "garden.lock"));
      expect(release).not.toBeNull();
      release?.();
      const kept = factsIn(dataFolder);
      expect(acknowledged).toEqual(facts.map((one) => one.id));
      expect(kept.slice(0, count)).toEqual(acknowledged);
      expect(new Set(kept).size).toBe(kept.length);
    },
    readyWithinMs,
  );
});
