import type { Day } from "@/lib/words/day";
import type { Instant } from "@/lib/words/instant";
import { type TableField, writeTable } from "./write-table";

export interface AmendmentRow {
  /** Null when it concerns the whole trial. */
  plot: string | null;
  kind: string;
  fromOn: Day;
  reason: string;
  by: string;
  madeAt: Instant;
}

/** The columns of `amendments.csv`. */
export const amendmentFields: readonly TableField[] = [
  { name: "plot", type: "string", description: "The plot it is about; blank is the whole trial" },
  { name: "kind", type: "string", description: "What was changed", constraints: { required: true } },
  { name: "from_on", type: "date", description: "From which day on", constraints: { required: true } },
  { name: "reason", type: "string", description: "Why", constraints: { required: true } },
  { name: "by", type: "string", description: "Who changed it" },
  {
    name: "made_at",
    type: "datetime",
    description: "When it was written down",
    constraints: { required: true },
  },
];

/** Writes `amendments.csv`: what was changed after a trial began. An analysis of the other two files does not see it. */
export function writeAmendments(rows: readonly AmendmentRow[]): string {
  return writeTable(
    amendmentFields,
    rows.map((row) => [row.plot, row.kind, row.fromOn, row.reason, row.by || null, toTheSecond(row.madeAt)]),
  );
}

/** Readers of the standard's first version take no parts of a second. */
function toTheSecond(instant: Instant): string {
  return instant.replace(/\.\d+Z$/, "Z");
}
