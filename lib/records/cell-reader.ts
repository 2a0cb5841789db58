import { type Day, parseDay } from "@/lib/words/day";
import { type Fault, type Outcome, quoteFound, refusal, success } from "@/lib/words/fault";
import { type Instant, isInstant } from "@/lib/words/instant";
import { type NumberRule, parseNumber } from "@/lib/words/number";
import { mayBeThousands, plainFigure } from "./figure";
import { type DayOrder, parseFileDay } from "./file-day";
import type { TableRow } from "./read-table";

/** How a file writes what can be written in two ways; a file in the open formats needs none of it. */
export interface FileManner {
  decimalComma: boolean;
  dayOrder: DayOrder | null;
}

/** Reads one row's values, and collects what is wrong with them instead of stopping at the first. */
export interface CellReader {
  /** At most `longest` letters; null when blank. */
  text(column: string, longest: number): string | null;
  day(column: string): Day | null;
  instant(column: string): Instant | null;
  number(column: string, rule: Omit<NumberRule, "place">): number | null;
  /** A weight in grams, with its unit behind it or in `unit`; a bare figure without one is grams. */
  weightG(column: string, unit: string, wanted: string): number | null;
  /** Notes a fault of a value, or of its absence. */
  refuse(column: string, wanted: string): void;
}

const heaviestG = 1_000_000;
const weight = /^(.*?)\s*(kg|g|gr|grams?|kilos?)?\.?$/i;

export function cellReader(row: TableRow, faults: Fault[], manner?: FileManner): CellReader {
  const refuse = (column: string, wanted: string) => {
    faults.push({ place: row.place(column), found: quoteFound(row.value(column)), wanted });
  };
  const taken = <Value>(outcome: Outcome<Value>): Value | null => {
    if (outcome.ok) return outcome.value;
    faults.push(...outcome.faults);
    return null;
  };
  const figure = (text: string, rule: NumberRule, factor: number): Outcome<number> => {
    const comma = manner?.decimalComma ?? false;
    const found = quoteFound(text);
    if (manner && mayBeThousands(text, comma))
      return refusal([{ place: rule.place, found, wanted: "a figure without a point between thousands" }]);
    const read = parseNumber(manner ? plainFigure(text, comma) : text, rule);
    if (!read.ok) return refusal(read.faults.map((fault) => ({ ...fault, found })));
    // A thousandth of a gram is as fine as is kept: 1.005 × 1000 is 1005.
    return success(factor === 1 ? read.value : Math.round(read.value * factor * 1000) / 1000);
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
      if (value === "") return null;
      const place = row.place(column);
      return taken(manner ? parseFileDay(value, place, manner.dayOrder) : parseDay(value, place));
    },
    instant(column) {
      const value = row.value(column);
      if (value === "" || isInstant(value)) return value === "" ? null : (value as Instant);
      refuse(column, "a UTC instant such as 2027-03-04T08:10:00.000Z");
      return null;
    },
    number(column, rule) {
      const value = row.value(column);
      return value === "" ? null : taken(figure(value, { ...rule, place: row.place(column) }, 1));
    },
    weightG(column, unit, wanted) {
      const value = row.value(column);
      if (value === "") return null;
      const [, bare = "", behind] = weight.exec(value) ?? [];
      const factor = (behind ?? unit).toLowerCase().startsWith("k") ? 1000 : 1;
      const read = figure(
        bare,
        { place: row.place(column), minimum: 0, maximum: heaviestG / factor, wanted },
        factor,
      );
      if (read.ok) return read.value;
      faults.push({ ...read.faults[0], found: quoteFound(value) });
      return null;
    },
  };
}
