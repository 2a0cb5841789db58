import { randomStream } from "@/lib/statistics/random-stream";
import { shuffled } from "./shuffled";

/** Where a plot lies: its line along the bed and its place across it, both from 1. */
export interface Place {
  bedId: string;
  row: number;
  column: number;
}

/** Free deals drawn before the best of them is taken. */
const mostDeals = 200;

function keyOf(bedId: string, row: number, column: number): string {
  return `${bedId}/${row}/${column}`;
}

/** How far a deal falls short: like beside like, and varieties that meet the ends of beds more often than others. */
export function dealFaults(
  blocks: readonly (readonly Place[])[],
  deal: readonly (readonly string[])[],
): { likeNeighbours: number; endSpread: number } {
  const dealt = new Map<string, string>();
  const lastRow = new Map<string, number>();
  const atEnds = new Map<string, number>();
  blocks.forEach((places, block) => {
    places.forEach(({ bedId, row, column }, position) => {
      dealt.set(keyOf(bedId, row, column), deal[block][position]);
      lastRow.set(bedId, Math.max(row, lastRow.get(bedId) ?? 0));
      atEnds.set(deal[block][position], 0);
    });
  });
  let likeNeighbours = 0;
  for (const { bedId, row, column } of blocks.flat()) {
    const entry = dealt.get(keyOf(bedId, row, column)) as string;
    if (dealt.get(keyOf(bedId, row + 1, column)) === entry) likeNeighbours += 1;
    if (dealt.get(keyOf(bedId, row, column + 1)) === entry) likeNeighbours += 1;
    if (row === 1 || row === lastRow.get(bedId)) atEnds.set(entry, (atEnds.get(entry) ?? 0) + 1);
  }
  const counts = [...atEnds.values()];
  return { likeNeighbours, endSpread: Math.max(...counts) - Math.min(...counts) };
}

/**
 * Deals every variety once to each block, in random order.
 *
 * Free deals are drawn one after another, each block shuffled alone, until one has no variety beside itself across a
 * block's edge and none that lies at the ends of beds (first and last line, which catch wind and feet) more than one
 * plot oftener than another; after 200 the best so far is taken, fewest like neighbours first. Names play no part in
 * that choice, so each variety is equally likely in each place. It is still a restricted deal: a test that re-deals
 * freely within blocks is close, not exact.
 *
 * @param entries ids of the varieties
 * @param blocks the places of each block, as many as there are varieties
 * @param seed whole number; the same seed gives the same deal on any machine
 * @returns for each block one id a place, in the order of its places
 *
 * Checked: tests/property/design.test.ts (counts, sameness, even chances over thousands of seeds).
 */
export function dealRcbd(
  entries: readonly string[],
  blocks: readonly (readonly Place[])[],
  seed: number,
): string[][] {
  const stream = randomStream(seed);
  let best: { deal: string[][]; likeNeighbours: number; endSpread: number } | null = null;
  for (let drawn = 0; drawn < mostDeals; drawn += 1) {
    const deal = blocks.map(() => shuffled(entries, stream));
    const faults = dealFaults(blocks, deal);
    const isBetter =
      best === null ||
      faults.likeNeighbours < best.likeNeighbours ||
      (faults.likeNeighbours === best.likeNeighbours && faults.endSpread < best.endSpread);
    if (isBetter) best = { deal, ...faults };
    if (best?.likeNeighbours === 0 && best.endSpread <= 1) break;
  }
  return best?.deal ?? [];
}
