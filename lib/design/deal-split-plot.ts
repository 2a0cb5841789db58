import { randomStream } from "@/lib/statistics/random-stream";
import { shuffled } from "./shuffled";

export interface DealtMainPlot {
  /** What the whole main plot gets: a cover, or a sowing date. */
  level: string;
  /** Varieties of its plots, in plot order. */
  entries: string[];
}

/**
 * Deals a split plot: in every block each level (a cover, a sowing date) to one main plot, and in every main plot each
 * variety to one plot. Both orders are shuffled block by block, main plot by main plot, and every order is equally likely.
 *
 * @param levels ids of what is dealt to main plots
 * @param entries ids of the varieties
 * @param blocks how many blocks
 * @param seed whole number; the same seed gives the same deal on any machine
 * @returns for each block its main plots in the order in which they lie
 *
 * Checked: tests/property/further-designs.test.ts.
 */
export function dealSplitPlot(
  levels: readonly string[],
  entries: readonly string[],
  blocks: number,
  seed: number,
): DealtMainPlot[][] {
  const stream = randomStream(seed);
  return Array.from({ length: blocks }, () =>
    shuffled(levels, stream).map((level) => ({ level, entries: shuffled(entries, stream) })),
  );
}
