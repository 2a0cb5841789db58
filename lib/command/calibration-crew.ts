import { availableParallelism } from "node:os";
import { Worker } from "node:worker_threads";
import type { Cell, SurvivalCell } from "./calibration-cells";
import type { Tallies } from "./calibration-trials";
import type { Done, Task } from "./calibration-worker";

// A worker thread does not inherit tsx, so it is started on a line that registers it before the worker's own file.
const startWorker = `import("tsx/esm/api").then(({ register }) => {
  register();
  return import(${JSON.stringify(new URL("./calibration-worker.ts", import.meta.url).href)});
})`;

/** Runs cells on all processors; which one runs a cell changes nothing, since each has a seed of its own. */
function runAll(cells: readonly Cell[], trials: number, firstSeed: number): Promise<Tallies[]> {
  const found = new Array<Tallies>(cells.length);
  const crew = Array.from({ length: Math.min(availableParallelism(), cells.length) }, () => {
    return new Worker(startWorker, { eval: true });
  });
  let next = 0;
  let left = cells.length;
  return new Promise((resolve, reject) => {
    if (left === 0) resolve(found);
    const give = (worker: Worker) => {
      if (next >= cells.length) return;
      worker.postMessage({ index: next, cell: cells[next], trials, seed: firstSeed + next } satisfies Task);
      next += 1;
    };
    for (const worker of crew) {
      worker.on("error", reject);
      worker.on("message", ({ index, tallies }: Done) => {
        found[index] = tallies;
        left -= 1;
        give(worker);
        if (left === 0) Promise.all(crew.map((each) => each.terminate())).then(() => resolve(found), reject);
      });
      give(worker);
    }
  });
}

export interface Result<Kind extends Cell> {
  cell: Kind;
  tallies: Tallies;
}

/** Runs every cell once, so many trials each, on seeds that follow one another from the first. */
export async function runOnce<Kind extends Cell>(
  cells: readonly Kind[],
  trials: number,
  firstSeed: number,
): Promise<Result<Kind>[]> {
  const found = await runAll(cells, trials, firstSeed);
  return cells.map((cell, index) => ({ cell, tallies: found[index] }));
}

export interface HalvedResult extends Result<SurvivalCell> {
  /** The tallies of each half of the trials; `tallies` holds both together. */
  halves: [Tallies, Tallies];
}

/**
 * Runs every cell once, in two halves on seeds of their own. What looks lowest in one half is low by its noise as well;
 * the other half, which did not choose it, says how low it is.
 */
export async function runInHalves(
  cells: readonly SurvivalCell[],
  trials: number,
  firstSeed: number,
): Promise<HalvedResult[]> {
  const first = await runAll(cells, trials / 2, firstSeed);
  const second = await runAll(cells, trials / 2, firstSeed + cells.length);
  return cells.map((cell, index) => {
    const halves: [Tallies, Tallies] = [first[index], second[index]];
    return { cell, halves, tallies: together(...halves) };
  });
}

function together(first: Tallies, second: Tallies): Tallies {
  const sums: Tallies = {};
  for (const [name, { trials, hits, width }] of [...Object.entries(first), ...Object.entries(second)]) {
    sums[name] ??= { trials: 0, hits: 0, width: 0 };
    sums[name].trials += trials;
    sums[name].hits += hits;
    sums[name].width += width;
  }
  return sums;
}
