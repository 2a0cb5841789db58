import { writeSync } from "node:fs";
import { createInterface } from "node:readline";
import { v7 } from "uuid";
import { openDatabase } from "@/db/open";
import type { House } from "@/lib/service/house";
import { receiveObservations } from "@/lib/service/receive-observations";
import { instantOf } from "@/lib/words/instant";

/**
 * A server in small, to be killed: takes a batch from each line of its input and answers in a line of its output. Told
 * `within 7` it dies in the middle of writing the seventh fact, told `after 7` when that fact is on the disk and its
 * answer is not yet out.
 */
const [file, when, at] = process.argv.slice(2);
let written = 0;

function die(): void {
  process.kill(process.pid, "SIGKILL");
}

const house: House = {
  database: openDatabase(file),
  dataFolder: "",
  newId: () => v7(),
  now: () => instantOf(Date.now()),
};

// The cohort is in, the fact is not: the service asks the time for its receipt.
const inTheMiddle: House = {
  ...house,
  now: () => {
    if (house.database.$client.inTransaction) written += 1;
    if (when === "within" && written === Number(at)) die();
    return house.now();
  },
};

writeSync(1, "ready\n");
let answered = 0;
for await (const line of createInterface({ input: process.stdin })) {
  const outcome = receiveObservations(inTheMiddle, JSON.parse(line));
  answered += 1;
  if (when === "after" && answered === Number(at)) die();
  writeSync(1, `${JSON.stringify(outcome)}\n`);
}
