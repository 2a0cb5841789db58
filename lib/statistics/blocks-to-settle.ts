import { insist } from "./requirement";
import { studentTCdf } from "./student-t";

/**
 * How many more blocks would settle whether a yield meets its floor, if the ratio and the spread stay as seen.
 *
 * For *try once more*, as `plotsToSettle` is for survival.
 *
 * @param logRatio log of variety/check, with its standard error > 0 from `blocks` blocks
 * @param dfPerBlock residual df that each further block adds, varieties − 1
 * @param rule log of the floor; `meetAt` and `missAt`, the probabilities that settle it either way
 * @param mostBlocks where to give up
 * @returns the fewest further blocks (0 if settled now) and which way; null when not even `mostBlocks` would
 *
 * Convention: standard error × √(blocks/all blocks), t on (all blocks − 1) × dfPerBlock.
 * Source: our own. Checked: tests/unit/statistics/deciding.test.ts.
 */
export function blocksToSettle(
  logRatio: { estimate: number; se: number; blocks: number },
  dfPerBlock: number,
  rule: { logFloor: number; meetAt: number; missAt: number },
  mostBlocks: number,
): { blocks: number; meets: boolean } | null {
  const { estimate, se, blocks } = logRatio;
  insist(
    Number.isFinite(estimate) && se > 0 && Number.isFinite(se) && blocks >= 2 && dfPerBlock >= 1,
    "blocksToSettle",
    "a finite estimate, se > 0, two blocks or more and dfPerBlock ≥ 1",
    `${estimate}, se ${se}, ${blocks} blocks, dfPerBlock ${dfPerBlock}`,
  );
  insist(rule.missAt < rule.meetAt, "blocksToSettle", "missAt < meetAt", `${rule.missAt} and ${rule.meetAt}`);
  for (let more = 0; more <= mostBlocks; more += 1) {
    const all = blocks + more;
    const t = (estimate - rule.logFloor) / (se * Math.sqrt(blocks / all));
    const probability = studentTCdf(t, (all - 1) * dfPerBlock);
    if (probability >= rule.meetAt || probability <= rule.missAt)
      return { blocks: more, meets: probability >= rule.meetAt };
  }
  return null;
}
