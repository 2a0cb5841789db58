import { type Fault, type Outcome, quoteFound, refusal, success } from "@/lib/words/fault";
import { restoredCell } from "./neutral-cell";
import { splitRows } from "./split-rows";
import { spoiltCells } from "./spoilt-cells";

/** One row of a file: its line, and its values by column, with spaces at the ends taken off and formula-like ones restored. */
export interface TableRow {
  line: number;
  /** Empty where the column is not there or the value is blank. */
  value(column: string): string;
  /** `file:line:column`, for a fault. */
  place(column: string): string;
  /** Values of columns that the format does not know, by their names; blank ones left out. */
  notes: Record<string, string>;
}

export interface Table {
  rows: TableRow[];
  /** As they are written in the file. */
  unknownColumns: string[];
}

/**
 * Reads a file of comma-separated values (RFC 4180, UTF-8): its first row names the columns, in any order, capitals or
 * not. A byte-order mark, either kind of line end and blank lines are no matter; a row may leave out blank values at its
 * end. Faults: no rows, a missing or doubled column, another separator, an open quotation mark, letters lost in
 * decoding, more values than columns.
 *
 * @param file its name, for the places of faults
 * @param required columns that must be there; the other known ones may be missing
 */
export function readTable(
  text: string,
  file: string,
  required: readonly string[],
  optional: readonly string[],
): Outcome<Table> {
  const [header, ...body] = splitRows([text.replace(/^\uFEFF/, "")], ",");
  const faults: Fault[] = [];
  const list = required.join(" and ");
  if (!header) {
    return refusal([
      { place: `${file}:1:1`, found: "nothing", wanted: `a first row with the columns ${list}` },
    ]);
  }
  const written = header.values.map((name) => name.trim());
  const names = written.map((name) => name.toLowerCase());
  if (names.length === 1 && /[;\t]/.test(names[0])) {
    const wanted = "commas between the values; here they are semicolons or tabs";
    return refusal([{ place: `${file}:${header.line}:1`, found: quoteFound(written[0]), wanted }]);
  }
  for (const column of required)
    if (!names.includes(column))
      faults.push({
        place: `${file}:${header.line}:${column}`,
        found: quoteFound(`the columns ${written.join(", ")}`),
        wanted: `a column named ${column}`,
      });
  names.forEach((name, index) => {
    if (name !== "" && names.indexOf(name) < index)
      faults.push({
        place: `${file}:${header.line}:${name}`,
        found: `${name} twice`,
        wanted: "each column once",
      });
  });
  const known = new Set([...required, ...optional]);
  const strangers = written.filter((name, index) => name !== "" && !known.has(names[index]));

  if (header.isBroken) faults.push(...spoiltCells(header, written, file));
  const tableRows = body.map((split): TableRow => {
    const { line, values } = split;
    const place = (column: string) => `${file}:${line}:${column}`;
    const at = (index: number) => (index < 0 ? "" : restoredCell(values[index]?.trim() ?? ""));
    faults.push(...spoiltCells(split, names, file));
    const notes = strangers
      .map((name) => [name, at(written.indexOf(name))])
      .filter(([, value]) => value !== "");
    return { line, value: (column) => at(names.indexOf(column)), place, notes: Object.fromEntries(notes) };
  });
  if (tableRows.length === 0)
    faults.push({
      place: `${file}:${header.line + 1}:1`,
      found: "nothing",
      wanted: "at least one row of values",
    });
  return faults.length > 0 ? refusal(faults) : success({ rows: tableRows, unknownColumns: strangers });
}
