import { Worker } from "node:worker_threads";
import type { House } from "./house";
import type { ImportAnswer, ImportAsked } from "./import-asked";
import { dropStaged, type StagedFile, stagedFiles } from "./staged-files";

/** What the worker is given to do. */
export interface ImportWork {
  databaseFile: string;
  dataFolder: string;
  files: StagedFile[];
  asked: ImportAsked;
  isWriting: boolean;
  /** Its first number is no longer 0 once a person stops it. */
  stop: SharedArrayBuffer;
}
export type ImportTold = { part: number } | { answer: ImportAnswer } | { fault: string };

/** More than any file within the limit needs: one that is made to need more ends alone. */
const mostMemoryMb = 512;

/** What can be stopped, by its set. */
const running = new Map<string, AbortController>();
let turn: Promise<unknown> = Promise.resolve();

function work(house: House, given: ImportWork, options: RunOptions): Promise<ImportAnswer> {
  return new Promise((resolve) => {
    let isAnswered = false;
    const answered = (answer: ImportAnswer) => {
      isAnswered = true;
      resolve(answer);
    };
    const failed = (fault: unknown) => {
      if (isAnswered) return;
      house.report?.(fault);
      const found = "reading it came to an end before its time";
      const wanted = "a smaller file; nothing of it was taken in";
      answered({ state: "faulty", faults: [{ place: "file", found, wanted }], count: 1 });
    };
    const worker = new Worker(new URL("./import.worker.ts", import.meta.url), {
      workerData: given,
      resourceLimits: { maxOldGenerationSizeMb: mostMemoryMb },
    });
    const stop = () => Atomics.store(new Int32Array(given.stop), 0, 1);
    options.signal.addEventListener("abort", stop);
    if (options.signal.aborted) stop();
    worker.on("message", (told: ImportTold) => {
      if ("part" in told) options.tell(told.part);
      else if ("answer" in told) answered(told.answer);
      else failed(new Error(told.fault));
    });
    worker.on("error", failed);
    worker.on("exit", () => {
      options.signal.removeEventListener("abort", stop);
      failed(new Error("the import's worker ended without an answer"));
    });
  });
}

interface RunOptions {
  tell(part: number): void;
  /** Aborted, the import stops and nothing is written. */
  signal: AbortSignal;
}

/**
 * Tries the files of a set, or takes them in, aside from the pages and one set at a time. Before anything is written the
 * garden's file is backed up. A set that was taken in is taken away.
 */
export function runImport(
  house: House,
  { set, asked, isWriting }: { set: string; asked: ImportAsked; isWriting: boolean },
  options: RunOptions,
): Promise<ImportAnswer> {
  const stopping = new AbortController();
  running.set(set, stopping);
  const signal = AbortSignal.any([options.signal, stopping.signal]);
  const run = async (): Promise<ImportAnswer> => {
    const files = stagedFiles(house, set);
    if (isWriting && !signal.aborted) await house.backUp?.();
    if (signal.aborted) return { state: "stopped" };
    const { dataFolder, database } = house;
    const stop = new SharedArrayBuffer(4);
    const databaseFile = database.$client.name;
    const answer = await work(
      house,
      { databaseFile, dataFolder, files, asked, isWriting, stop },
      { ...options, signal },
    );
    if (answer.state === "done") dropStaged(house, set);
    return answer;
  };
  const mine = turn.then(run).finally(() => {
    if (running.get(set) === stopping) running.delete(set);
  });
  turn = mine.catch(() => undefined);
  return mine;
}

/** Stops what is being done with a set. What came of it is told by its own answer: it may have been done just before. */
export function stopImport(set: string): void {
  running.get(set)?.abort();
}
