import { spawn } from "node:child_process";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { describe, expect, it } from "vitest";
import { closeDatabase, openDatabase } from "@/db/open";
import { checkHouse } from "@/lib/service/check-house";
import type { House } from "@/lib/service/house";
import { randomStream } from "@/lib/statistics/random-stream";
import { contractVersion, type FactReply } from "@/lib/sync/contract";
import type { Observation } from "@/lib/words/observation";
import { houseWithTrial, send, someFact } from "../database/fresh-house";

const root = join(import.meta.dirname, "..", "..");
/** `npm run kills` asks for many more than the gate has time for. */
const atAnyMoment = Number(process.env.PROVING_BED_KILLS ?? 7);

/** Sends facts one by one to a receiver that will be killed; gives the answers that came out before it died. */
function sendUntilKilled(
  file: string,
  facts: Observation[],
  how: { when: "within" | "after"; at: number } | { afterAnswers: number },
): Promise<FactReply[]> {
  const told = "when" in how ? [how.when, String(how.at)] : [];
  const receiver = join(root, "tests/resilience/receiver.ts");
  const child = spawn(process.execPath, ["--import", "tsx", receiver, file, ...told], {
    cwd: root,
    stdio: ["pipe", "pipe", "inherit"],
  });
  // The pipe breaks when the receiver dies: that is the point.
  child.stdin.on("error", () => {});
  const answers: FactReply[] = [];
  createInterface({ input: child.stdout }).on("line", (line) => {
    if (line === "ready") {
      for (const fact of facts)
        child.stdin.write(`${JSON.stringify({ contract: contractVersion, facts: [fact] })}\n`);
      return;
    }
    answers.push(...JSON.parse(line).value.replies);
    if ("afterAnswers" in how && answers.length === how.afterAnswers) child.kill("SIGKILL");
  });
  return new Promise((resolve, reject) => {
    child.on("close", (_, signal) => {
      if (signal === "SIGKILL") resolve(answers);
      else reject(new Error("the receiver ended by itself"));
    });
  });
}

/** A garden with its trial in a closed file, and facts to send to it: losses, corrections, a new cohort, a new cause. */
function closedGarden() {
  const { house, trial } = houseWithTrial();
  const facts = Array.from({ length: 40 }, (_, index) => {
    const plotId = trial.plots[index % 5].id;
    if (index % 4 === 0) return someFact(plotId, { kind: "loss", cause: `cause ${index}`, amount: 1 });
    if (index % 4 === 1)
      return someFact(plotId, { kind: "added", amount: 1, cohortOn: "2026-11-01" as never });
    return someFact(plotId, { amount: index % 4 });
  });
  facts.forEach((fact, index) => {
    if (index % 7 === 6) fact.replaces = facts[index - 5].id;
  });
  closeDatabase(house.database);
  return { house, facts, file: join(house.dataFolder, "garden.sqlite") };
}

function expectWhole(base: House, file: string, facts: Observation[], answers: FactReply[]): void {
  const database = openDatabase(file);
  const house: House = { ...base, database };
  try {
    expect(database.$client.pragma("integrity_check", { simple: true })).toBe("ok");
    expect(database.$client.pragma("foreign_key_check")).toEqual([]);
    expect(checkHouse(house).wrong).toEqual([]);
    const kept = database.$client.prepare("SELECT id FROM observation").pluck().all();
    const promised = answers.filter((reply) => reply.answer === "recorded").map((reply) => reply.id);
    expect(kept).toEqual(expect.arrayContaining(promised));
    expect(new Set(kept).size).toBe(kept.length);
    // What was on the way is at most one fact: on the disk, its answer lost.
    expect(kept.length - promised.length).toBeGreaterThanOrEqual(0);

    const again = send(house, facts);
    expect(again.map((reply) => reply.answer)).toEqual(
      facts.map((fact) => (kept.includes(fact.id) ? "already" : "recorded")),
    );
    expect(database.$client.prepare("SELECT count(*) FROM observation").pluck().get()).toBe(facts.length);
    expect(checkHouse(house).wrong).toEqual([]);
  } finally {
    closeDatabase(database);
  }
}

describe("a server killed while facts come in", () => {
  it.each([1, 2, 13, 40])(
    "in the middle of writing fact %i keeps all before it and nothing of it",
    async (at) => {
      const { house, facts, file } = closedGarden();
      const answers = await sendUntilKilled(file, facts, { when: "within", at });
      expect(answers).toHaveLength(at - 1);
      expectWhole(house, file, facts, answers);
    },
  );

  it.each([1, 13, 40])(
    "between writing fact %i and answering keeps it, and takes it for the same when it comes again",
    async (at) => {
      const { house, facts, file } = closedGarden();
      const answers = await sendUntilKilled(file, facts, { when: "after", at });
      expect(answers).toHaveLength(at - 1);
      const database = openDatabase(file);
      expect(database.$client.prepare("SELECT count(*) FROM observation").pluck().get()).toBe(at);
      closeDatabase(database);
      expectWhole(house, file, facts, answers);
    },
  );

  const stream = randomStream(20261125);
  it.each(Array.from({ length: atAnyMoment }, (_, kill) => [kill + 1, 1 + stream.whole(36)]))(
    "for the %ith time, at any moment after %i answers, loses and doubles none",
    async (_, afterAnswers) => {
      const { house, facts, file } = closedGarden();
      const answers = await sendUntilKilled(file, facts, { afterAnswers });
      expect(answers.length).toBeGreaterThanOrEqual(afterAnswers);
      expectWhole(house, file, facts, answers);
    },
  );
});
