import { parentPort, workerData } from "node:worker_threads";
import { v7 } from "uuid";
import { openDatabase } from "@/db/open";
import { instantOf } from "@/lib/words/instant";
import { ImportStopped } from "./import-asked";
import { importFiles } from "./import-files";
import type { ImportTold, ImportWork } from "./run-import";
import { sourceOf } from "./staged-files";

// A thread of its own with a connection of its own: pages go on being answered while a long file is read and written.
const { databaseFile, dataFolder, files, asked, isWriting, stop } = workerData as ImportWork;
const stopFlag = new Int32Array(stop);
const tell = (told: ImportTold) => parentPort?.postMessage(told);

/** A file is read up to five times: its letters, its dates, its hash, its rows, and its rows once more to write them. */
const readings = isWriting ? 5 : 4;
const whole = Math.max(1, files.reduce((sum, file) => sum + file.bytes, 0) * readings);
let read = 0;
let told = 0;

const database = openDatabase(databaseFile);
try {
  const sources = files.map((file) =>
    sourceOf(file, (bytes) => {
      read += bytes;
      const part = Math.min(0.99, read / whole);
      if (part - told < 0.01) return;
      told = part;
      tell({ part });
    }),
  );
  const house = { database, dataFolder, now: () => instantOf(Date.now()), newId: () => v7() };
  const steps = { isStopped: () => Atomics.load(stopFlag, 0) !== 0 };
  tell({ answer: importFiles(house, asked, sources, { isWriting, steps }) });
} catch (fault) {
  if (fault instanceof ImportStopped) tell({ answer: { state: "stopped" } });
  else tell({ fault: fault instanceof Error ? (fault.stack ?? fault.message) : String(fault) });
} finally {
  database.$client.close();
}
