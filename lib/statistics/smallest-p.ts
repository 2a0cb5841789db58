import { insistOnPlots, type Layout, numbered, type PlotCount } from "./plot-count";
import { insist } from "./requirement";

/**
 * The smallest p that re-dealing a layout can give for a family of comparisons, however clear the result.
 *
 * Shown beside every randomisation test; above 0.05 the layout cannot reach 1 in 20 and the interval must be read.
 *
 * @param plots the layout as dealt; counts do not matter
 * @param layout how it was dealt: anywhere, within blocks, or as a Latin square
 * @param pairs the family: every variety against the check, all pairs, or one pair
 * @returns a probability; null for Latin squares of six or more (always below 1 in 1,000) and for incomplete ones
 *
 * Conventions: single-step max-T, blocks without ties. A pair is at its extreme in as many deals as leave both where
 * they are, or exchange them; pairs dealt alike (as often in each block) share that extreme. In complete blocks this
 * is 2 × pairs/[V(V − 1)]^B: all pairs [V(V − 1)]^(1 − B), against the check 2(V − 1)/[V(V − 1)]^B. With unequal
 * numbers of plots it is the least that any data could give. It counts deals by the pair's own plots; a statistic that
 * divides by each deal's residual spread can set such deals apart and, with four varieties or more, go lower (four in
 * two blocks, all pairs: 0.042 where this says 0.083).
 * Source: counting; latin squares of order 3 to 5 enumerated (12, 576, 161,280 squares).
 * Checked: tests/unit/statistics/randomisation.test.ts (full enumerations).
 * Example: 3 varieties in 3 blocks: all pairs 0.028, against the check 0.0185.
 */
export function smallestP(
  plots: readonly PlotCount[],
  layout: Layout,
  pairs: readonly (readonly [string, string])[],
): number | null {
  insistOnPlots("smallestP", plots, layout);
  insist(pairs.length > 0, "smallestP", "at least one pair", 0);
  const names = [...new Set(plots.map((plot) => plot.variety))];
  const codes = numbered(plots.map((plot) => plot.variety));
  const codeOf = (name: string) => {
    const code = names.indexOf(name);
    insist(code >= 0, "smallestP", "pairs of varieties in the layout", name);
    return code;
  };
  const coded = pairs.map(([a, b]) => [codeOf(a), codeOf(b)] as const);
  if (layout === "latin") return latinSmallestP(plots.length, names.length, pairs.length);

  const blocks = layout === "rcbd" ? numbered(plots.map((plot) => plot.block)) : plots.map(() => 0);
  const size: number[] = [];
  const held: number[][] = [];
  plots.forEach((_, plot) => {
    const block = blocks[plot];
    size[block] = (size[block] ?? 0) + 1;
    held[block] ??= names.map(() => 0);
    held[block][codes[plot]] += 1;
  });
  let smallest = 1;
  for (const [a, b] of coded) {
    let chance = 1;
    for (let block = 0; block < size.length; block += 1)
      chance /= placements(size[block], held[block][a], held[block][b]);
    const alike = (c: number, d: number) =>
      held.every((counts) => counts[c] === counts[a] && counts[d] === counts[b]);
    let deals = 0;
    for (const [c, d] of coded) deals += (alike(c, d) ? 1 : 0) + (alike(d, c) ? 1 : 0);
    smallest = Math.min(smallest, deals * chance);
  }
  return smallest;
}

/** In how many ways a first lot of `a` and a second of `b` plots can be chosen from `size`. */
function placements(size: number, a: number, b: number): number {
  let ways = 1;
  for (let index = 0; index < a; index += 1) ways *= (size - index) / (index + 1);
  for (let index = 0; index < b; index += 1) ways *= (size - a - index) / (index + 1);
  return ways;
}

/**
 * Squares that hold two letters where they are, at the fewest, and squares in all. The fewest completions of two
 * letters' cells are 1, 2 and 24 for orders 3, 4 and 5.
 */
function latinSmallestP(plots: number, order: number, pairs: number): number | null {
  const squares: Record<number, { held: number; all: number }> = {
    2: { held: 1, all: 2 },
    3: { held: 1, all: 12 },
    4: { held: 2, all: 576 },
    5: { held: 24, all: 161_280 },
  };
  const known = squares[order];
  if (!known || plots !== order * order) return null;
  return (2 * pairs * known.held) / known.all;
}
