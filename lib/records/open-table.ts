import { type Outcome, refusal, success } from "@/lib/words/fault";
import { decodeChunks, type Encoding, tellEncoding } from "./encoding";
import { type Separator, tellSeparator } from "./separator";
import { type SplitRow, splitRows } from "./split-rows";

/** A file's bytes in pieces, from its beginning each time that they are asked for. */
export interface SourceFile {
  name: string;
  chunks(): Iterable<Uint8Array>;
}

/** A table whose encoding, separator and first row are known. */
export interface OpenTable {
  name: string;
  encoding: Exclude<Encoding, "binary">;
  separator: Separator;
  /** The names of the columns, as they are written; a nameless one is blank. */
  columns: string[];
  /** The rows under them, read anew each time. */
  rows(): Generator<SplitRow>;
}

const beginning = 65_536;
const mostColumns = 200;

function startOf(chunks: Iterable<string>): string {
  let start = "";
  for (const chunk of chunks) {
    start += chunk;
    if (start.length >= beginning) break;
  }
  return start.slice(0, beginning);
}

/** Titles above a table have one value a row; the names of columns are the first row with more. */
function isHeading({ values }: SplitRow): boolean {
  return values.filter((value) => value.trim() !== "").length > 1;
}

/**
 * Opens a file of separated values as people's programs write it: UTF-8 with its mark or without, UTF-16 or Windows-1252;
 * commas, semicolons, tabs or upright strokes. Lines of a title above the names of the columns are passed over. Refused:
 * what is no text, and what has no two columns.
 */
export function openTable({ name, chunks }: SourceFile): Outcome<OpenTable> {
  const encoding = tellEncoding(chunks());
  if (encoding === "binary")
    return refusal([
      {
        place: `${name}:1:1`,
        found: "a file that is not plain text",
        wanted: "a table saved as text: CSV or TSV",
      },
    ]);
  const text = () => decodeChunks(chunks(), encoding);
  const start = startOf(text());
  const separator = tellSeparator(start);
  const split = () => splitRows(text(), separator);
  let heading: SplitRow | null = null;
  for (const row of split()) {
    if (isHeading(row)) heading = row;
    if (heading || row.line > 50) break;
  }
  if (!heading || heading.isBroken) {
    const found = start.trim() === "" ? "nothing" : heading ? "a quotation mark left open" : "no two columns";
    const wanted = "a row with the names of the columns, separated by commas, semicolons or tabs";
    return refusal([{ place: `${name}:${heading?.line ?? 1}:1`, found, wanted }]);
  }
  const { line, values } = heading;
  const columns = values.map((value) => value.trim());
  while (columns.at(-1) === "") columns.pop();
  if (columns.length > mostColumns)
    return refusal([
      { place: `${name}:${line}:1`, found: `${columns.length} columns`, wanted: `at most ${mostColumns}` },
    ]);
  function* rows() {
    for (const row of split()) if (row.line > line) yield row;
  }
  return success({ name, encoding, separator, columns, rows });
}
