import { spawn } from "node:child_process";
import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import { text } from "node:stream/consumers";
import { afterEach, describe, expect, it, vi } from "vitest";
import { verifyFile } from "@/db/copy-file";
import { closeDatabase, openDatabase, openReadOnly } from "@/db/open";
import { holdingPage } from "@/lib/command/holding-page";
import { putBack } from "@/lib/command/put-back";
import { standstill } from "@/lib/command/standstill";
import { backUp, verifyAside } from "@/lib/service/back-up";
import { takeCopy } from "@/lib/service/copy-files";
import type { House } from "@/lib/service/house";
import { beginPutBack, lookAtCopy } from "@/lib/service/look-at-copy";
import { receiveObservations } from "@/lib/service/receive-observations";
import { trialFindings } from "@/lib/service/trial-findings";
import { contractVersion, type FactReply } from "@/lib/sync/contract";
import { given, houseWithTrial, keptRecord, send, someFact } from "../database/fresh-house";

const root = join(import.meta.dirname, "..", "..");
const holding = holdingPage({ title: "t", heading: "h", text: "p", api: "wait" });
const servers: Server[] = [];

afterEach(async () => {
  for (const server of servers.splice(0)) {
    server.closeAllConnections();
    await new Promise((resolve) => server.close(resolve));
  }
});

/** A home that takes in facts over the wire and can put a copy back, as the launcher makes it, without its pages. */
async function openHome() {
  const { house, trial, trialId } = houseWithTrial();
  const home: House = house;
  const still = standstill(holding);
  const stopped = vi.fn();
  home.report = () => {};
  home.lookAtCopy = verifyAside;
  home.putBack = (copy) => putBack(home, still, copy, stopped);
  const server = createServer(
    still.through((request, answer) => {
      text(request).then((body) => answer.end(JSON.stringify(receiveObservations(home, JSON.parse(body)))));
    }),
  );
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  servers.push(server);
  const address = `http://127.0.0.1:${(server.address() as AddressInfo).port}/api/observations`;
  /** The ids that were acknowledged; none while everything stands still. */
  const post = async (facts: unknown[]): Promise<string[]> => {
    const answer = await fetch(address, {
      method: "POST",
      body: JSON.stringify({ contract: contractVersion, facts }),
    });
    if (answer.status === 503) return [];
    const { value } = (await answer.json()) as { value: { replies: FactReply[] } };
    return value.replies.filter((reply) => reply.answer === "recorded").map((reply) => reply.id);
  };
  return { home, trial, trialId, post, stopped };
}

async function ended(home: House) {
  await vi.waitFor(() => expect(home.lastPutBack).toBeTruthy(), { timeout: 20_000, interval: 20 });
  return home.lastPutBack;
}

function idsIn(file: string): string[] {
  const database = openReadOnly(file);
  const ids = database.$client.prepare<[], string>("SELECT id FROM observation").pluck().all();
  database.$client.close();
  return ids;
}

describe("a copy put back while the home runs", () => {
  it("gives the record of the copy, with the same figures, and keeps aside what was there", async () => {
    const { home, trial, trialId } = await openHome();
    send(
      home,
      trial.plots.map((plot) => someFact(plot.id)),
    );
    const record = keptRecord(home.database);
    const findings = trialFindings(home, trialId);
    const name = await backUp(home);
    const later = someFact(trial.plots[0].id, { amount: 1 });
    send(home, [later]);
    expect(given(await lookAtCopy(home, name))).toMatchObject({
      holds: { gardenName: "Hazel Clough", trials: 1, observations: trial.plots.length },
      present: { observations: trial.plots.length + 1 },
    });
    expect(beginPutBack(home, name)).toBe(true);
    const end = await ended(home);
    expect(end).toMatchObject({ copy: name, fault: null });
    expect(keptRecord(home.database)).toEqual(record);
    expect(trialFindings(home, trialId)).toEqual(findings);
    const aside = join(home.dataFolder, "backups", end?.aside ?? "");
    expect(() => verifyFile(aside)).not.toThrow();
    expect(idsIn(aside)).toContain(later.id);
    closeDatabase(home.database);
  });

  it("loses no fact that was acknowledged, though facts come in all the while, and takes in more afterwards", async () => {
    const { home, trial, post } = await openHome();
    const name = await backUp(home);
    const acknowledged: string[] = [];
    let isOver = false;
    const sending = Array.from({ length: 4 }, async () => {
      while (!isOver) acknowledged.push(...(await post([someFact(trial.plots[0].id)])));
    });
    await vi.waitFor(() => expect(acknowledged.length).toBeGreaterThan(20));
    beginPutBack(home, name);
    const end = await ended(home);
    const before = acknowledged.length;
    await vi.waitFor(() => expect(acknowledged.length).toBeGreaterThan(before + 20));
    isOver = true;
    await Promise.all(sending);
    expect(end?.fault).toBeNull();
    const kept = [
      ...idsIn(home.database.$client.name),
      ...idsIn(join(home.dataFolder, "backups", end?.aside ?? "")),
    ];
    expect(new Set(kept).size).toBe(kept.length);
    expect(kept.toSorted()).toEqual(acknowledged.toSorted());
    closeDatabase(home.database);
  });

  it("ends the sessions and pairings that the copy holds", async () => {
    const { home } = await openHome();
    home.database.$client.exec(
      `INSERT INTO person VALUES ('${"p".repeat(36)}', 'Joss', 'gardener', NULL, 0, '2026-11-25T09:00:00.000Z', NULL);
       INSERT INTO session VALUES ('${"s".repeat(36)}', '${"p".repeat(36)}', '${"a".repeat(64)}', 'a phone', 'pairing', 30,
         '2026-11-25T09:00:00.000Z', '2026-11-25T09:00:00.000Z', '2027-11-25T09:00:00.000Z', NULL);`,
    );
    beginPutBack(home, await backUp(home));
    await ended(home);
    expect(home.database.$client.prepare("SELECT ended_at FROM session").pluck().get()).toBe(
      "2026-11-25T09:00:00.000Z",
    );
    closeDatabase(home.database);
  });

  it("that turns out damaged leaves the garden as it was, open and recording", async () => {
    const { home, trial, post, stopped } = await openHome();
    const [first] = await post([someFact(trial.plots[0].id)]);
    const name = await backUp(home);
    const copy = join(home.dataFolder, "backups", name);
    const bytes = readFileSync(copy);
    writeFileSync(copy, bytes.fill(0xff, bytes.length / 2, bytes.length / 2 + 8_192));
    const looked = await lookAtCopy(home, name);
    expect(looked.ok).toBe(false);
    expect(JSON.stringify(looked)).not.toContain(home.dataFolder);
    beginPutBack(home, name);
    expect((await ended(home))?.fault).toMatch(/not whole|malformed/);
    const [second] = await post([someFact(trial.plots[0].id)]);
    expect(idsIn(home.database.$client.name)).toEqual([first, second]);
    expect(stopped).not.toHaveBeenCalled();
    closeDatabase(home.database);
  });

  it("waits for another program that has the file open, and says so instead", async () => {
    const { home } = await openHome();
    const name = await backUp(home);
    const other = openDatabase(home.database.$client.name);
    other.$client.prepare("SELECT count(*) FROM bed").get();
    beginPutBack(home, name);
    expect((await ended(home))?.fault).toBe("another program has the garden's file open");
    closeDatabase(other);
    expect(home.database.$client.open).toBe(true);
    closeDatabase(home.database);
  });
});

describe("a file that is sent to be put back", () => {
  const stream = (bytes: Uint8Array) => new Blob([bytes as BlobPart]).stream();

  it("is looked at like a backup, and gone once it was put back", async () => {
    const { home } = await openHome();
    const bytes = readFileSync(join(home.dataFolder, "backups", await backUp(home)));
    const { name } = given(await takeCopy(home, stream(bytes)));
    expect(given(await lookAtCopy(home, name)).holds.gardenName).toBe("Hazel Clough");
    beginPutBack(home, name);
    expect((await ended(home))?.fault).toBeNull();
    expect(readdirSync(join(home.dataFolder, "restore"))).toEqual([]);
    closeDatabase(home.database);
  });

  it.each([
    ["nothing", ""],
    ["a letter", "Dear all, this is a letter and no garden."],
    ["a cut beginning", "SQLite for"],
  ])("is refused at once when it is %s", async (_, words) => {
    const { home } = await openHome();
    expect((await takeCopy(home, stream(new TextEncoder().encode(words)))).ok).toBe(false);
    expect(readdirSync(join(home.dataFolder, "restore"))).toEqual([]);
    closeDatabase(home.database);
  });

  it.each(["../garden.sqlite", "garden.sqlite", "uploaded-../../x.sqlite", "garden-1/../../garden.sqlite"])(
    "reaches nothing by the name %s",
    async (name) => {
      const { home } = await openHome();
      expect(beginPutBack(home, name)).toBe(false);
      expect((await lookAtCopy(home, name)).ok).toBe(false);
      closeDatabase(home.database);
    },
  );
});

/** Restores by the command in a process that is killed after so many milliseconds; none lets it end. */
function restoreKilled(dataFolder: string, copy: string, afterMs: number | null): Promise<void> {
  const child = spawn(
    process.execPath,
    ["--import", "tsx", join(root, "tests/resilience/restorer.ts"), dataFolder, copy],
    {
      cwd: root,
      stdio: ["ignore", "pipe", "inherit"],
    },
  );
  child.stdout.once("data", () => {
    if (afterMs !== null) setTimeout(() => child.kill("SIGKILL"), afterMs);
  });
  return new Promise((resolve) => child.once("close", () => resolve()));
}

describe("a restore that is cut off", () => {
  it("at any moment leaves the old garden or the new one, whole, and never less than both between file and aside", async () => {
    const { house, trial } = houseWithTrial();
    send(house, [someFact(trial.plots[0].id)]);
    const name = await backUp(house);
    const copy = join(house.dataFolder, "backups", name);
    const old = idsIn(copy);
    const later = someFact(trial.plots[0].id);
    send(house, [later]);
    const file = house.database.$client.name;
    const present = join(house.dataFolder, "present.sqlite");
    closeDatabase(house.database);
    writeFileSync(present, readFileSync(file));
    for (const afterMs of [0, 1, 2, 4, 6, 9, 13, 20]) {
      for (const end of ["", "-wal", "-shm"]) rmSync(file + end, { force: true });
      writeFileSync(file, readFileSync(present));
      const aside = join(house.dataFolder, "aside.sqlite");
      rmSync(aside, { force: true });
      await restoreKilled(house.dataFolder, copy, afterMs);
      closeDatabase(openDatabase(file));
      expect(() => verifyFile(file)).not.toThrow();
      const ids = idsIn(file);
      expect([old, [...old, later.id]]).toContainEqual(ids);
      if (ids.length === old.length) {
        expect(existsSync(aside)).toBe(true);
        expect(idsIn(aside)).toContain(later.id);
      }
    }
  });
});
