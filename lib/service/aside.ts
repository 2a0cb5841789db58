import { Worker } from "node:worker_threads";
import type { AnalysisOptions } from "@/lib/analysis/analyse-trial";
import type { TrialFindings } from "@/lib/analysis/finding";
import type { TrialRecord } from "@/lib/analysis/trial-record";
import type { TrialFrame } from "@/lib/analysis/variety-in-trial";
import type { TrialAnswer } from "./answer-of";

/** What is sent to the worker; `ask` pairs it with what comes back. With a frame, the short answer is wanted. */
export interface AsideAsked {
  ask: number;
  record: TrialRecord;
  options: AnalysisOptions;
  frame: TrialFrame | null;
}
export type AsideTold =
  | { ask: number; findings: TrialFindings }
  | { ask: number; answer: TrialAnswer }
  | { ask: number; fault: string };

interface Waiting {
  resolve(told: AsideTold): void;
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
  made.on("message", (told: AsideTold) => {
    const one = waiting.get(told.ask);
    waiting.delete(told.ask);
    if ("fault" in told) one?.reject(new Error(told.fault));
    else one?.resolve(told);
    if (waiting.size === 0) made.unref();
  });
  const ended = (fault: Error) => {
    if (worker === made) giveUp(fault);
  };
  made.on("error", ended);
  made.on("exit", () => ended(new Error("the worker that reads trials aside from the pages has ended")));
  made.unref();
  worker = made;
  return made;
}

function askAside(asked: Omit<AsideAsked, "ask">): Promise<AsideTold> {
  return new Promise((resolve, reject) => {
    asks += 1;
    waiting.set(asks, { resolve, reject });
    const at = theWorker();
    at.ref();
    at.postMessage({ ask: asks, ...asked } satisfies AsideAsked);
  });
}

/** What a record says, worked out aside from the pages; rejects where that cannot be done. */
export async function findingsAside(record: TrialRecord, options: AnalysisOptions): Promise<TrialFindings> {
  const told = await askAside({ record, options, frame: null });
  if ("findings" in told) return told.findings;
  throw new Error("findingsAside requires findings from the worker; got something else");
}

/** A trial's short answer, worked out aside from the pages; rejects where that cannot be done. */
export async function answerAside(record: TrialRecord, frame: TrialFrame): Promise<TrialAnswer> {
  const told = await askAside({ record, options: { withoutRedealing: true }, frame });
  if ("answer" in told) return told.answer;
  throw new Error("answerAside requires an answer from the worker; got something else");
}
