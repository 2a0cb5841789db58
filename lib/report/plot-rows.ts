import type { PlotOutcome } from "@/lib/analysis/finding";
import { sayDay } from "@/lib/words/day";
import { sayDecimal } from "@/lib/words/say-number";

/** Every plot with what it gave, for an appendix. */
export function plotRows(plots: readonly PlotOutcome[]): { headings: string[]; rows: string[][] } {
  return {
    headings: ["plot", "block", "variety", "set out", "standing", "lost", "yield, g", "remark"],
    rows: plots.map(({ code, block, variety, setOut, standing, lost, yieldG, leftOn }) => [
      code,
      block ?? "–",
      variety,
      setOut === null ? "–" : String(setOut),
      standing === null ? "–" : String(standing),
      standing === null ? "–" : String(lost),
      yieldG === null ? "–" : sayDecimal(yieldG, 0),
      leftOn === null ? "" : `left the trial ${sayDay(leftOn)}`,
    ]),
  };
}
