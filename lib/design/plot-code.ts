/** I and O are left out: on a muddy stake they are read as 1 and 0 (*common practice*). */
const letters = "ABCDEFGHJKLMNPQRSTUVWXYZ";

/** Letters that count on from Z: A … Z, AA, AB …; short enough for any stake. */
function blockLetters(block: number): string {
  const rest = Math.floor((block - 1) / letters.length);
  const own = letters[(block - 1) % letters.length];
  return rest === 0 ? own : blockLetters(rest) + own;
}

/**
 * The code on a plot's stake: the block's letter and the plot's number in it, counted as one walks from the path;
 * `P` and a number where there are no blocks.
 *
 * Example: plotCode(2, 3) → `B3`; plotCode(null, 7) → `P7`.
 */
export function plotCode(block: number | null, position: number): string {
  return block === null ? `P${position}` : `${blockLetters(block)}${position}`;
}
