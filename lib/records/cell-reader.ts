import { type Day, parseDay } from "@/lib/words/day";
import { type Fault, type Outcome, quoteFound } from "@/lib/words/fault";
import { type NumberRule, parseNumber } from "@/lib/words/number";
import type { TableRow } from "./read-table";

/** Reads one row's values, and collects what is wrong with them instead of stopping at the first. */
export interface CellReader {
  /** At most `longest` letters; null when blank. */
  text(column: string, longest: number): string | null;
  day(column: string): Day | null;
  number(column: string, rule: Omit<NumberRule, "place">): number | null;
  /** Notes a fault of a value, or of its absence. */
  refuse(column: string, wanted: string): void;
}

export function cellReader(row: TableRow, faults: Fault[]): CellReader {
  const refuse = (column: string, wanted: string) => {
    faults.push({ place: row.place(column), found: quoteFound(row.value(column)), wanted });
  };
  const taken = <Value>(outcome: Outcome<Value>): Value | null => {
    if (outcome.ok) return outcome.value;
    faults.push(...outcome.faults);
    return null;
  };
  return {
    refuse,
    text(column, longest) {
      const value = row.value(column);
      if (value.length > longest) refuse(column, `at most ${longest} letters`);
      return value === "" ? null : value;
    },
    day(column) {
      const value = row.value(column);
      return value === "" ? null : taken(parseDay(value, row.place(column)));
    },
    number(column, rule) {
      const value = row.value(column);
      return value === "" ? null : taken(parseNumber(value, { ...rule, place: row.place(column) }));
    },
  };
}
