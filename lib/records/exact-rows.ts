import { type Fault, type Outcome, quoteFound, refusal, success } from "@/lib/words/fault";
import { plainName, rowMapper } from "./column-mapping";
import { openTable, type SourceFile } from "./open-table";
import type { TableRow } from "./read-table";
import { spoiltCells } from "./spoilt-cells";

/** A table whose columns have the names of an open format. */
export interface ExactTable {
  /** Read anew each time; what is wrong with a row as a row is told, and the row left out. */
  rows(faults: { add(faults: readonly Fault[]): void }): Generator<TableRow>;
  decimalComma: boolean;
  /** As they are written in the file. */
  unknownColumns: string[];
}

/**
 * Opens a table whose columns are named as an open format names them, capitals or not, in any order; whatever program
 * saved it. Refused: a column that must be there and is not, a column twice.
 */
export function exactRows(
  file: SourceFile,
  { required, optional }: { required: readonly string[]; optional: readonly string[] },
): Outcome<ExactTable> {
  const opened = openTable(file);
  if (!opened.ok) return opened;
  const { columns, separator } = opened.value;
  const names = columns.map(plainName);
  const faults: Fault[] = [];
  const at = (column: string) => names.indexOf(plainName(column.replaceAll("_", " ")));
  for (const column of required)
    if (at(column) < 0)
      faults.push({
        place: `${file.name}:1:${column}`,
        found: quoteFound(`the columns ${columns.join(", ")}`),
        wanted: `a column named ${column}`,
      });
  const known = [...required, ...optional].filter((column) => at(column) >= 0);
  for (const column of known)
    if (names.lastIndexOf(names[at(column)]) !== at(column))
      faults.push({
        place: `${file.name}:1:${column}`,
        found: `${column} twice`,
        wanted: "each column once",
      });
  if (faults.length > 0) return refusal(faults);
  const mapping = Object.fromEntries(known.map((column) => [column, { column: at(column) }]));
  const used = new Set(known.map(at));
  const toRow = rowMapper(file.name, columns, mapping);
  return success({
    *rows(into) {
      for (const split of opened.value.rows()) {
        const spoilt = spoiltCells(split, columns, file.name);
        if (spoilt.length > 0) into.add(spoilt);
        else yield toRow(split);
      }
    },
    decimalComma: separator === ";",
    unknownColumns: columns.filter((name, index) => name !== "" && !used.has(index)),
  });
}
