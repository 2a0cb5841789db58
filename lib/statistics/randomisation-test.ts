import type { Deals } from "./deals";
import type { RandomStream } from "./random-stream";
import { insist } from "./requirement";

/** Up to this many deals are all gone through; beyond it a seeded sample is drawn. */
const mostDealsEnumerated = 200_000;

/**
 * A statistic of each comparison for one deal, written into `out`: not negative, larger for clearer differences. It
 * depends on nothing but the labels, and squares will do as well as sizes.
 */
export type DealStatistic = (labels: Uint8Array, out: Float64Array) => void;

export interface RandomisationP {
  /** Share of deals that set this comparison as clearly apart as the deal made. Never 0. */
  p: number;
  /** The same for the clearest comparison of the family in each deal: single-step max-T; `p` for those by themselves. */
  pFamily: number;
  /** Standard errors of the two where deals were sampled; 0 where all were gone through. */
  error: number;
  errorFamily: number;
}

export interface RandomisationTest {
  /** Deals gone through, the one made included. */
  deals: number;
  enumerated: boolean;
  comparisons: RandomisationP[];
  /** The statistic of each comparison in the deal that was made. */
  seen: Float64Array;
  /** The clearest comparison's statistic in every deal gone through, in no order that means anything. */
  clearest: Float64Array;
}

/**
 * Could it be the luck of the draw? Deals the layout again and again exactly as it was dealt, the plots' results staying
 * where they are, and counts how often a deal does as well as the one that was made.
 *
 * It tests that varieties are interchangeable: for one pair beside very unlike varieties the interval rules. A layout
 * with few deals cannot give a small p (`smallestP`).
 *
 * @param deals all deals of the layout, from `dealsOf`
 * @param statistic of each comparison, given the labels
 * @param comparisons how many numbers the statistic writes for the family
 * @param alone how many more it writes after them, each of which stands by itself
 * @param sampled how many deals to draw where there are more than 200,000
 * @param stream seeded by the trial; not touched where all deals are gone through
 *
 * Conventions: all deals, the one made among them, when at most 200,000; otherwise (b + 1)/(m + 1). A deal ties with the
 * one made within 1e-9 (relative). Two-sided. Family: single-step max-T over the comparisons given.
 * Source: fisher-1935; phipson-smyth-2010 (never 0); westfall-young-1993 (max-T).
 * Checked: tests/reference/randomisation (Darwin's maize, permeability, blocks; R), plain twin.
 * Example: Darwin's 15 pairs → 1,726 of 32,768 deals, p = 0.0527.
 */
export function randomisationTest(
  deals: Deals,
  statistic: DealStatistic,
  comparisons: number,
  sampled: number,
  stream: RandomStream,
  alone = 0,
): RandomisationTest {
  insist(
    Number.isInteger(sampled) && sampled >= 1,
    "randomisationTest",
    "at least one deal to draw",
    sampled,
  );
  const written = comparisons + alone;
  const seen = new Float64Array(written);
  statistic(deals.dealt, seen);
  const threshold = seen.map((value) => {
    insist(value >= 0, "randomisationTest", "statistics ≥ 0", value);
    return value * (1 - 1e-9);
  });
  const asClear = new Float64Array(written);
  const familyAsClear = new Float64Array(comparisons);
  const out = new Float64Array(written);
  const enumerated = deals.count <= mostDealsEnumerated;
  const everyClearest = new Float64Array(enumerated ? deals.count : sampled);
  let visited = 0;
  const visit = (labels: Uint8Array) => {
    statistic(labels, out);
    let clearest = 0;
    for (let index = 0; index < comparisons; index += 1) {
      const value = out[index];
      if (value > clearest) clearest = value;
      if (value >= threshold[index]) asClear[index] += 1;
    }
    everyClearest[visited] = clearest;
    visited += 1;
    for (let index = 0; index < comparisons; index += 1)
      if (clearest >= threshold[index]) familyAsClear[index] += 1;
    for (let index = comparisons; index < written; index += 1)
      if (out[index] >= threshold[index]) asClear[index] += 1;
  };
  if (enumerated) deals.visitAll(visit);
  else for (let draw = 0; draw < sampled; draw += 1) visit(deals.draw(stream));
  const total = enumerated ? deals.count : sampled + 1;
  const made = enumerated ? 0 : 1;
  const error = (p: number) => (enumerated ? 0 : Math.sqrt((p * (1 - p)) / sampled));
  return {
    deals: total,
    enumerated,
    seen: seen.slice(0, comparisons),
    clearest: everyClearest,
    comparisons: Array.from(asClear, (count, index) => {
      const p = (count + made) / total;
      const pFamily = index < comparisons ? (familyAsClear[index] + made) / total : p;
      return { p, pFamily, error: error(p), errorFamily: error(pFamily) };
    }),
  };
}
