import { parentPort } from "node:worker_threads";
import type { Cell } from "./calibration-cells";
import { runCell, type Tallies } from "./calibration-trials";

export interface Task {
  index: number;
  cell: Cell;
  trials: number;
  seed: number;
}

export interface Done {
  index: number;
  tallies: Tallies;
}

parentPort?.on("message", ({ index, cell, trials, seed }: Task) => {
  parentPort?.postMessage({ index, tallies: runCell(cell, trials, seed) } satisfies Done);
});
