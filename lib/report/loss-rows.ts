import type { LossShare } from "@/lib/analysis/finding";
import { sayCause } from "@/lib/words/cause";
import { sayPercent } from "@/lib/words/say-number";

/** The share lost to each cause with its limits, a row a variety and cause. */
export function lossRows(losses: LossShare[]): { headings: string[]; rows: string[][] } {
  return {
    headings: ["variety", "cause", "plants", "share", "from", "to"],
    rows: losses.map((loss) => [
      loss.variety,
      sayCause(loss.cause),
      String(loss.plants),
      ...[loss.share, loss.low, loss.high].map((value) => (value === null ? "–" : sayPercent(value))),
    ]),
  };
}
