import { splitRows } from "./split-rows";

/** What may stand between the values of a row, the likelier first. */
const separators = [",", ";", "\t", "|"] as const;
export type Separator = (typeof separators)[number];

/** How spreadsheets may say it themselves in a first line of its own. */
const saysSo = /^sep=(.)\r?\n?/i;

/**
 * Tells what separates the values: what makes the first row longest and the rows after it as long. A semicolon wins over
 * the commas within decimals, since those differ from row to row and do not stand in the names of columns.
 *
 * @param start the file's beginning: some rows are enough
 */
export function tellSeparator(start: string): Separator {
  const said = saysSo.exec(start)?.[1];
  const named = separators.find((one) => one === said);
  if (named) return named;
  const scores = separators.map((separator) => {
    const rows = [...splitRows([start], separator)].slice(0, 20);
    const columns = rows[0]?.values.filter((value) => value.trim() !== "").length ?? 0;
    const alike = rows.filter(({ values }) => values.length > 1 && values.length <= columns + 1).length;
    return columns > 1 ? columns * (alike / rows.length) : 0;
  });
  return separators[scores.indexOf(Math.max(...scores))];
}
