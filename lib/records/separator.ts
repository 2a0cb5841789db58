import { splitRows } from "./split-rows";

/** What may stand between the values of a row, the likelier first. */
const separators = [",", ";", "\t", "|"] as const;
export type Separator = (typeof separators)[number];

/** How spreadsheets may say it themselves, in a first line of its own. */
const saysSo = /^sep=(.)\s*$/i;

/** How many values most rows have, times the share of rows that have so many. */
function evenness(start: string, separator: Separator): number {
  const tally = new Map<number, number>();
  let rows = 0;
  for (const { values } of splitRows([start], separator)) {
    if (values.length > 1) tally.set(values.length, (tally.get(values.length) ?? 0) + 1);
    rows += 1;
    if (rows === 30) break;
  }
  const [count = 0, times = 0] = [...tally].sort((one, other) => other[1] - one[1])[0] ?? [];
  return rows === 0 ? 0 : (count * times) / rows;
}

/**
 * Tells what separates the values: what gives most rows the same number of them. Decimal commas do not win over
 * semicolons, since they do not stand in the names of columns.
 *
 * @param start the file's beginning: some rows are enough
 */
export function tellSeparator(start: string): Separator {
  const said = saysSo.exec(start.split(/\r\n|\n|\r/, 1)[0])?.[1];
  const named = separators.find((one) => one === said);
  if (named) return named;
  const scores = separators.map((separator) => evenness(start, separator));
  return separators[scores.indexOf(Math.max(...scores))];
}
