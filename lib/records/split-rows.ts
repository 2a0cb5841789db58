import Papa from "papaparse";

/** One row of a file as it is split into values. */
export interface SplitRow {
  /** The line on which it starts; quoted values may hold line ends of their own. */
  line: number;
  values: string[];
  /** Whether a quotation mark in it is left open, or stands where none may. */
  isBroken: boolean;
}

/** No row of a real file is longer; beyond it a quotation mark was left open, and what follows cannot be told apart. */
const longestRow = 1_000_000;
const lineEnd = /\r\n|\n|\r/g;

/** Rows end as lines do; a carriage return alone ends them only where the file knows nothing else. */
function rowEnd(text: string): "\n" | "\r" {
  const unquoted = text.replace(/"[^"]*"/g, "");
  return !unquoted.includes("\n") && unquoted.includes("\r") ? "\r" : "\n";
}

/**
 * Splits a file of separated values (RFC 4180) into its rows, holding no more of it than the piece at hand. Blank rows
 * are passed over.
 *
 * @param chunks the file's text in pieces, wherever they are cut
 */
export function* splitRows(chunks: Iterable<string>, separator: string): Generator<SplitRow> {
  let parser: Papa.Parser | null = null;
  let split: { values: string[]; isBroken: boolean; end: number }[] = [];
  let waiting = "";
  let line = 1;

  function* take(isLast: boolean): Generator<SplitRow> {
    parser ??= new Papa.Parser({
      delimiter: separator,
      newline: rowEnd(waiting),
      step: ({ data, errors, meta }: Papa.ParseResult<string[]>) => {
        split.push({ values: data[0], isBroken: errors.length > 0, end: meta.cursor });
      },
    });
    parser.parse(waiting, 0, !isLast);
    const rows = split;
    split = [];
    let start = 0;
    for (const { values, isBroken, end } of rows) {
      if (values.some((value) => value.trim() !== "")) yield { line, values, isBroken };
      line += waiting.slice(start, end).match(lineEnd)?.length ?? 0;
      start = end;
    }
    waiting = waiting.slice(start);
  }

  for (const chunk of chunks) {
    waiting += chunk;
    if (waiting.length < 65_536) continue;
    yield* take(false);
    if (waiting.length > longestRow) {
      yield { line, values: [waiting.slice(0, 200)], isBroken: true };
      return;
    }
  }
  if (waiting !== "") yield* take(true);
}
