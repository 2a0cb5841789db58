import { Worker } from "node:worker_threads";
import type { AnalysisOptions } from "@/lib/analysis/analyse-trial";
import type { Finding, TrialFindings } from "@/lib/analysis/finding";
import type { ManyWinters, Proof } from "@/lib/analysis/many-winters";
import type { TrialRecord } from "@/lib/analysis/trial-record";
import type { TrialFrame, VarietyInTrial } from "@/lib/analysis/variety-in-trial";
import type { PooledSurvival, pooledSurvival } from "@/lib/statistics/pooled-survival";
import type { TrialAnswer } from "./answer-of";
import type { House } from "./house";

/** What can be worked out aside from the pages, and what comes of it. */
export type AsideQuestion =
  | { kind: "findings"; record: TrialRecord; options: AnalysisOptions }
  | { kind: "answer"; record: TrialRecord; frame: TrialFrame }
  | { kind: "winters"; variety: string; trials: VarietyInTrial[] }
  | { kind: "proofs"; variety: string; trials: VarietyInTrial[] }
  | { kind: "pooled"; of: Parameters<typeof pooledSurvival> };
export interface AsideAnswers {
  findings: TrialFindings;
  answer: TrialAnswer;
  winters: Finding<ManyWinters>[];
  proofs: Proof[];
  pooled: PooledSurvival;
}

/** What is sent to the worker and what comes back; `ask` pairs the two. */
export type AsideAsked = AsideQuestion & { ask: number };
export type AsideTold =
  | { ask: number; answer: AsideAnswers[keyof AsideAnswers] }
  | { ask: number; fault: string };

interface Waiting {
  resolve(answer: unknown): void;
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
    else one?.resolve(told.answer);
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

/** Has something worked out aside from the pages; rejects where that cannot be done. */
export function askAside<Kind extends keyof AsideAnswers>(
  question: Extract<AsideQuestion, { kind: Kind }>,
): Promise<AsideAnswers[Kind]> {
  return new Promise((resolve, reject) => {
    const at = theWorker();
    asks += 1;
    waiting.set(asks, { resolve: (answer) => resolve(answer as AsideAnswers[Kind]), reject });
    at.ref();
    at.postMessage({ ...(question as AsideQuestion), ask: asks } satisfies AsideAsked);
  });
}

/** The same, worked out here instead where it cannot be done aside, which holds up every other page for a moment. */
export async function askAsideOr<Kind extends keyof AsideAnswers>(
  house: House,
  question: Extract<AsideQuestion, { kind: Kind }>,
  here: () => AsideAnswers[Kind],
): Promise<AsideAnswers[Kind]> {
  try {
    return await askAside<Kind>(question);
  } catch (fault) {
    house.report?.(fault);
    return here();
  }
}
