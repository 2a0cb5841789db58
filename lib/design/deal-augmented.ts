import { randomStream } from "@/lib/statistics/random-stream";
import { shuffled } from "./shuffled";

/**
 * Deals an augmented layout: many new varieties once each, spread over the blocks as evenly as they go, and the checks in
 * every block. The earlier blocks take one more where the new varieties do not divide evenly.
 *
 * Every new variety has the same chance of every place that is not a check's, and within a block every order is equally
 * likely.
 *
 * @param entries ids of the varieties that stand once
 * @param checks ids of those that stand in every block
 * @param blocks how many blocks, at most as many as new varieties
 * @param seed whole number; the same seed gives the same deal on any machine
 * @returns for each block one id a plot, in plot order
 *
 * Checked: tests/property/further-designs.test.ts.
 */
export function dealAugmented(
  entries: readonly string[],
  checks: readonly string[],
  blocks: number,
  seed: number,
): string[][] {
  const stream = randomStream(seed);
  const order = shuffled(entries, stream);
  const least = Math.floor(order.length / blocks);
  const withOneMore = order.length % blocks;
  let from = 0;
  return Array.from({ length: blocks }, (_, block) => {
    const own = order.slice(from, from + least + (block < withOneMore ? 1 : 0));
    from += own.length;
    return shuffled([...checks, ...own], stream);
  });
}
