import { expect, it, vi } from "vitest";
import { trialAnswer, trialAnswerNow } from "@/lib/service/trial-answer";
import { findingsInTurn, wholeFindings } from "@/lib/service/whole-findings";
import type { Day } from "@/lib/words/day";
import { houseWithTrial, send, someFact } from "./fresh-house";

/** A worker that falls over whatever it is asked. */
vi.mock("node:worker_threads", async (original) => {
  const { EventEmitter } = await import("node:events");
  class FallingWorker extends EventEmitter {
    ref() {}
    unref() {}
    postMessage() {
      queueMicrotask(() => this.emit("error", new Error("out of memory")));
    }
  }
  return { ...(await original<object>()), Worker: FallingWorker };
});

it("what the worker cannot work out is worked out beside the page, and that is reported", async () => {
  const { house, trialId, trial } = houseWithTrial();
  const reported: unknown[] = [];
  house.report = (fault) => reported.push(fault);
  send(house, [someFact(trial.plots[0].id, { seenOn: "2026-10-20" as Day })]);
  const answer = await trialAnswer(house, trialId);
  expect(answer).toMatchObject({ asOf: "2026-10-20" });
  expect(await findingsInTurn(house, trialId)).toMatchObject({ at: "2026-10-20" });
  expect(reported).toEqual([new Error("out of memory"), new Error("out of memory")]);
  expect(trialAnswerNow(house, trialId)).toBe(answer);
});

it("what only the worker is to do is told as a fault, and may be asked for again", async () => {
  const { house, trialId } = houseWithTrial();
  await expect(wholeFindings(house, trialId)).rejects.toThrow("out of memory");
  await expect(wholeFindings(house, trialId)).rejects.toThrow("out of memory");
});
