import type { Fault } from "@/lib/words/fault";
import { cellReader } from "./cell-reader";
import type { TableRow } from "./read-table";

/** One row of a list of varieties. */
export interface VarietyFileRow {
  line: number;
  crop: string;
  variety: string;
  packetClaim: string | null;
}

/** Reads one row of a list of varieties. */
export function readVariety(row: TableRow, faults: Fault[]): VarietyFileRow {
  const cell = cellReader(row, faults);
  const crop = cell.text("crop", 80);
  const variety = cell.text("variety", 80);
  if (crop === null) cell.refuse("crop", "the crop’s name");
  if (variety === null) cell.refuse("variety", "the variety’s name");
  return {
    line: row.line,
    crop: crop ?? "",
    variety: variety ?? "",
    packetClaim: cell.text("packet_claim", 10_000),
  };
}
