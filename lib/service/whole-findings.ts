import { Worker } from "node:worker_threads";
import type { AnalysisOptions } from "@/lib/analysis/analyse-trial";
import type { TrialFindings } from "@/lib/analysis/finding";
import type { TrialRecord } from "@/lib/analysis/trial-record";
import type { House } from "./house";
import { findingsKey, keepFindings, keptFindings } from "./kept-findings";
import type { FindingsQuestion } from "./trial-findings";
import { trialRecord } from "./trial-record";

/** What is sent to the worker and what comes back; `ask` pairs the two. */
export interface FindingsAsked {
  ask: number;
  record: TrialRecord;
  options: AnalysisOptions;
}
export type FindingsAnswered = { ask: number; findings: TrialFindings } | { ask: number; fault: string };

interface Waiting {
  resolve(findings: TrialFindings): void;
  reject(fault: Error): void;
}

let worker: Worker | null = null;
let asks = 0;
const waiting = new Map<number, Waiting>();

function giveUp(fault: Error): void {
  worker = null;
  for (const one of waiting.values()) one.reject(fault);
  waiting.clear();
}

/** The one long-lived worker: what it is asked it answers in turn, so that two readers do not slow each other's pages. */
function theWorker(): Worker {
  if (worker) return worker;
  const made = new Worker(new URL("./findings.worker.ts", import.meta.url));
  made.on("message", (answer: FindingsAnswered) => {
    const one = waiting.get(answer.ask);
    waiting.delete(answer.ask);
    if ("findings" in answer) one?.resolve(answer.findings);
    else one?.reject(new Error(answer.fault));
    if (waiting.size === 0) made.unref();
  });
  made.on("error", giveUp);
  made.on("exit", () => giveUp(new Error("the worker that deals layouts again has ended")));
  made.unref();
  worker = made;
  return made;
}

const underWay = new Map<string, Promise<TrialFindings>>();

/**
 * What one trial's record says, with the layout dealt again for its p-values: the same as `trialFindings` and more, and
 * longer in coming. Worked out aside from the pages, once for each state of the record. Null when there is no such trial.
 */
export async function wholeFindings(
  house: House,
  trialId: string,
  question: FindingsQuestion = {},
): Promise<TrialFindings | null> {
  const record = trialRecord(house, trialId);
  if (!record) return null;
  const key = findingsKey(record, question);
  const ready = keptFindings(key);
  if (ready) return ready;
  const begun =
    underWay.get(key) ??
    new Promise<TrialFindings>((resolve, reject) => {
      asks += 1;
      waiting.set(asks, { resolve, reject });
      const asked: FindingsAsked = { ask: asks, record, options: question };
      const at = theWorker();
      at.ref();
      at.postMessage(asked);
    }).then((findings) => keepFindings(key, findings));
  underWay.set(key, begun);
  try {
    return await begun;
  } finally {
    underWay.delete(key);
  }
}
