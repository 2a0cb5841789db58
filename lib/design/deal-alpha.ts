import { randomStream } from "@/lib/statistics/random-stream";
import { incompleteBlocks } from "./incomplete-blocks";
import { shuffled } from "./shuffled";

/** Beyond so many steps the search for a stricter array is given up and a looser one taken. */
const mostSteps = 20_000;

/**
 * Rows of an array of shifts modulo `shifts`, the first column 0: between any two rows no difference comes up more than
 * `together` times. Sought from the products of row and column, which are such an array by themselves where `shifts` is
 * prime. Null when there is none, or none was found in time.
 */
function shiftArray(rows: number, columns: number, shifts: number, together: number): number[][] | null {
  const array: number[][] = [];
  let steps = 0;
  const meets = (row: number[], difference: number, other: number[]) =>
    row.filter((shift, column) => (shift - other[column] + shifts) % shifts === difference).length;
  const extend = (row: number[]): boolean => {
    steps += 1;
    if (steps > mostSteps) return false;
    if (row.length === columns) {
      array.push(row);
      if (array.length === rows || extend([0])) return true;
      array.pop();
      return false;
    }
    for (let step = 0; step < shifts; step += 1) {
      const next = [...row, (array.length * row.length + step) % shifts];
      const isClear = array.every((other) => {
        const last = next.length - 1;
        return meets(next, (next[last] - other[last] + shifts) % shifts, other) <= together;
      });
      if (isClear && extend(next)) return true;
    }
    return false;
  };
  return extend([0]) ? array : null;
}

/** The strictest array that is found: entries that meet once at most if that can be had, otherwise twice, and so on. */
function strictestArray(rows: number, columns: number, shifts: number): number[][] {
  for (let together = 1; together < columns; together += 1) {
    const array = shiftArray(rows, columns, shifts, together);
    if (array) return array;
  }
  return Array.from({ length: rows }, () => Array.from({ length: columns }, () => 0));
}

export interface DealtBlock {
  /** From 1. */
  replicate: number;
  /** One id a plot, in plot order. */
  entries: string[];
}

/**
 * Deals an alpha layout: more varieties than a block holds, each once in every replicate, a replicate being several
 * blocks. Two varieties meet in at most one block of two replicates; of three or more, in as few as the search finds,
 * which is one wherever the number of blocks in a replicate is prime and no smaller than the number of replicates.
 *
 * The array of shifts is our own, by search; the construction from an array is the published one. Varieties, replicates,
 * blocks in a replicate and plots in a block are each shuffled, so that every variety has the same chance of every place.
 * Where the varieties do not fill the blocks, some blocks have one plot fewer, and none two.
 *
 * @param entries ids of the varieties
 * @param replicates two or more
 * @param mostPlots the most plots in a block: at most the number of blocks that it leads to in a replicate
 * @param seed whole number; the same seed gives the same deal on any machine
 * @returns blocks, replicate by replicate
 *
 * Source: patterson-williams-1976 (the construction).
 * Checked: tests/property/further-designs.test.ts (validity, meetings, even chances).
 */
export function dealAlpha(
  entries: readonly string[],
  replicates: number,
  mostPlots: number,
  seed: number,
): DealtBlock[] {
  const shape = incompleteBlocks(entries.length, mostPlots);
  if (!shape)
    throw new RangeError(
      `dealAlpha requires no more plots in a block than blocks in a replicate; got ${entries.length} entries in blocks of ${mostPlots}`,
    );
  const { blocksPerReplicate: shifts, plotsPerBlock } = shape;
  const array = strictestArray(plotsPerBlock, replicates, shifts);
  const stream = randomStream(seed);
  const order = shuffled(entries, stream);
  const columns = shuffled(
    Array.from({ length: replicates }, (_, column) => column),
    stream,
  );
  return columns.flatMap((column, index) => {
    const blocks = Array.from({ length: shifts }, (_, block) =>
      array.flatMap((row, line) => order[line * shifts + ((block + row[column]) % shifts)] ?? []),
    );
    return shuffled(blocks, stream).map((block) => ({
      replicate: index + 1,
      entries: shuffled(block, stream),
    }));
  });
}
