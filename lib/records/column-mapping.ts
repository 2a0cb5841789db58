import { type Fault, quoteFound } from "@/lib/words/fault";
import type { ImportField } from "./import-fields";
import { restoredCell } from "./neutral-cell";
import type { TableRow } from "./read-table";
import type { SplitRow } from "./split-rows";

/** Where a field's value stands: in a column, counted from 0, or the same for every row. */
export type FieldSource = { column: number } | { same: string };

/** What a person says of a file's columns, by the names of fields. */
export type ColumnMapping = Record<string, FieldSource>;

/** A column's name without capitals, marks, and what stands in brackets: `Min. (°C)` → `min`. */
export function plainName(written: string): string {
  return written
    .toLowerCase()
    .replace(/\([^)]*\)|\[[^\]]*\]/g, " ")
    .replace(/[^\p{L}\p{N}]+/gu, " ")
    .trim();
}

/**
 * Guesses from their names which columns hold which fields: first by a whole name, then by a word in it. Each column is
 * taken once.
 */
export function guessMapping(columns: readonly string[], fields: readonly ImportField[]): ColumnMapping {
  const names = columns.map(plainName);
  const mapping: ColumnMapping = {};
  const free = new Set(names.keys());
  const ways: ((name: string, word: string) => boolean)[] = [
    (name, word) => name === word,
    (name, word) => word.length > 2 && name.split(" ").includes(word),
  ];
  for (const fits of ways)
    for (const field of fields) {
      if (mapping[field.name]) continue;
      for (const word of [field.name.replaceAll("_", " "), ...field.takes]) {
        const column = [...free].find((index) => fits(names[index], word));
        if (column === undefined) continue;
        mapping[field.name] = { column };
        free.delete(column);
        break;
      }
    }
  return mapping;
}

/** What is wrong with a mapping before any row is read; places are the names of fields. */
export function mappingMisfits(
  mapping: ColumnMapping,
  columns: readonly string[],
  fields: readonly ImportField[],
): Fault[] {
  const faults: Fault[] = [];
  const taken = new Map<number, string>();
  for (const field of fields) {
    const source = mapping[field.name];
    if (!source) {
      if (field.isRequired)
        faults.push({ place: field.name, found: "nothing", wanted: "a column of the file" });
      continue;
    }
    if ("same" in source) {
      const isListed = field.same?.some(({ value }) => value === source.same);
      if (field.same === undefined || (field.same !== null && !isListed) || source.same.trim() === "")
        faults.push({ place: field.name, found: quoteFound(source.same), wanted: "a column of the file" });
      continue;
    }
    const earlier = taken.get(source.column);
    if (!Number.isInteger(source.column) || source.column < 0 || source.column >= columns.length)
      faults.push({ place: field.name, found: "a column that is not there", wanted: "a column of the file" });
    else if (earlier !== undefined)
      faults.push({
        place: field.name,
        found: `${quoteFound(columns[source.column])}, which is ${earlier} already`,
        wanted: "a column of its own",
      });
    taken.set(source.column, field.words);
  }
  return faults;
}

/** How a column is told in a fault: by its name, or by its number where it has none. */
export function columnName(columns: readonly string[], index: number): string {
  return columns[index] || String(index + 1);
}

/** Makes rows with their values by field. Columns that were given no field go into a row's notes by their names. */
export function rowMapper(
  file: string,
  columns: readonly string[],
  mapping: ColumnMapping,
): (row: SplitRow) => TableRow {
  const used = new Set(Object.values(mapping).flatMap((source) => ("column" in source ? source.column : [])));
  const others = columns.flatMap((name, index) => (used.has(index) || name === "" ? [] : [{ name, index }]));
  const sources = new Map(Object.entries(mapping));
  const placeNames = new Map(
    [...sources].flatMap(([field, source]) =>
      "column" in source ? [[field, columnName(columns, source.column)] as const] : [],
    ),
  );
  return ({ line, values }) => {
    const at = (index: number) => restoredCell(values[index]?.trim() ?? "");
    const notes = others.map(({ name, index }) => [name, at(index)]).filter(([, value]) => value !== "");
    return {
      line,
      value: (field) => {
        const source = sources.get(field);
        if (!source) return "";
        return "same" in source ? source.same.trim() : at(source.column);
      },
      place: (field) => `${file}:${line}:${placeNames.get(field) ?? field}`,
      notes: Object.fromEntries(notes),
    };
  };
}
