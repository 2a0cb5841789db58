import { randomStream } from "@/lib/statistics/random-stream";
import { shuffled } from "./shuffled";

/**
 * Deals varieties to plots completely at random: each to the same number of plots, every arrangement equally likely,
 * two plots of one variety side by side included. Re-dealing freely is therefore an exact test of such a layout.
 *
 * @param entries ids of the varieties
 * @param plotsEach how many plots each of them gets
 * @param seed whole number; the same seed gives the same deal on any machine
 * @returns one id a plot, in plot order
 */
export function dealCrd(entries: readonly string[], plotsEach: number, seed: number): string[] {
  const stakes = entries.flatMap((entry) => Array.from({ length: plotsEach }, () => entry));
  return shuffled(stakes, randomStream(seed));
}
