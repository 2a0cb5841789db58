import { availableParallelism } from "node:os";
import { Worker } from "node:worker_threads";
import type { Cell, SurvivalCell } from "./calibration-cells";
import { coverage } from "./calibration-tables";
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

const passes = [
  { trials: 300, below: 0.955 },
  { trials: 1200, below: 0.943 },
  { trials: 6000, below: 0 },
];
const ours = ["effective first", "effective second", "effective difference"];

/**
 * The lowest of thousands of noisy figures is low by its noise. So every cell is run once, cells that look low (or too
 * safe where clumping is strong) are run again on new trials which alone count, and what still does once more.
 */
export async function runInPasses(
  cells: readonly SurvivalCell[],
  firstSeed: number,
): Promise<Result<SurvivalCell>[]> {
  const results = cells.map((cell): Result<SurvivalCell> => ({ cell, tallies: {} }));
  let again = results;
  for (const [pass, { trials, below }] of passes.entries()) {
    const found = await runAll(
      again.map((result) => result.cell),
      trials,
      firstSeed + pass * 100_000,
    );
    found.forEach((tallies, index) => {
      again[index].tallies = tallies;
    });
    again = again.filter(({ cell, tallies }) => {
      const low = ours.some((name) => coverage(tallies[name]) < below);
      const high = ["effective first", "effective second"].some((name) => coverage(tallies[name]) > 0.985);
      return low || (cell.icc >= 0.2 && high);
    });
  }
  return results;
}

export async function runOnce<Kind extends Cell>(
  cells: readonly Kind[],
  trials: number,
  seed: number,
): Promise<Result<Kind>[]> {
  const found = await runAll(cells, trials, seed);
  return cells.map((cell, index) => ({ cell, tallies: found[index] }));
}
