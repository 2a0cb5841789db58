import { chiSquareUpper } from "./chi-square";
import { midRanks } from "./mid-ranks";
import { insist } from "./requirement";

/**
 * Whether several treatments differ, by their ranks within each block.
 *
 * Beside the analysis of complete blocks where a few plots are far out, and for tasters who ranked coded samples. A plot
 * missing leaves its whole block out, so hand over complete blocks only.
 *
 * @param blocks values of each block, treatments in one order throughout
 * @returns chi-square on treatments − 1 df; null statistic and p where every block is tied throughout
 *
 * Conventions: mid-ranks with the tie correction; p from chi-square, rough below ten blocks (the randomisation p is
 * exact).
 * Source: friedman-1937.
 * Checked: tests/reference/block-trial (R friedman.test).
 * Example: ranks 1, 2, 3 in each of two blocks → chi-square 4 on 2 df, p 0.135.
 */
export function friedmanTest(blocks: readonly (readonly number[])[]): {
  statistic: number | null;
  df: number;
  p: number | null;
} {
  const count = blocks[0]?.length ?? 0;
  insist(count >= 2, "friedmanTest", "at least one block of two treatments", count);
  insist(
    blocks.every((block) => block.length === count && block.every(Number.isFinite)),
    "friedmanTest",
    "a finite value of every treatment in every block",
    `${blocks.length} blocks`,
  );
  const ranked = blocks.map(midRanks);
  const df = count - 1;
  const ties = ranked.reduce((sum, one) => sum + one.ties, 0);
  const untied = blocks.length * count * (count + 1) - ties / df;
  if (!(untied > 0)) return { statistic: null, df, p: null };
  let spread = 0;
  for (let treatment = 0; treatment < count; treatment += 1)
    spread += ranked.reduce((sum, { ranks }) => sum + ranks[treatment] - (count + 1) / 2, 0) ** 2;
  const statistic = (12 * spread) / untied;
  return { statistic, df, p: chiSquareUpper(statistic, df) };
}
