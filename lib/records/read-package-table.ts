import { isDay } from "@/lib/words/day";
import { type Fault, quoteFound } from "@/lib/words/fault";
import { isInstant } from "@/lib/words/instant";
import type { PackageTable } from "./data-package";
import { exactRows } from "./exact-rows";
import type { SourceFile } from "./open-table";
import type { TableField } from "./write-table";

/** A row of a package's table, its values by the names of the fields. */
export interface PackageRow {
  line: number;
  place(field: string): string;
  /** As the field's type has it; null where it is blank. */
  values: Record<string, unknown>;
}

const whole = /^-?\d{1,15}$/;
const figure = /^-?\d+(\.\d+)?([eE][-+]?\d+)?$/;

/** The value of one cell by its field's type; undefined where it is none. */
function cellValue(text: string, { type }: TableField): unknown {
  switch (type) {
    case "string":
      return text;
    case "integer":
      return whole.test(text) ? Number(text) : undefined;
    case "number":
      return figure.test(text) && Number.isFinite(Number(text)) ? Number(text) : undefined;
    case "boolean":
      return text === "true" || text === "1" ? true : text === "false" || text === "0" ? false : undefined;
    case "date":
      return isDay(text) ? text : undefined;
    case "datetime":
      return isInstant(text) ? text : undefined;
    case "object":
    case "array": {
      try {
        const value: unknown = JSON.parse(text);
        const isRight = type === "array" ? Array.isArray(value) : typeof value === "object" && value !== null;
        return isRight ? value : undefined;
      } catch {
        return undefined;
      }
    }
  }
}

const typeWords: Record<TableField["type"], string> = {
  string: "text",
  integer: "a whole number",
  number: "a number",
  boolean: "true or false",
  date: "a day such as 2027-03-04",
  datetime: "a UTC instant such as 2027-03-04T08:10:00.000Z",
  object: "JSON",
  array: "a JSON list",
};

/** What a value must be besides its type, where it is not. */
function beyond(value: unknown, { constraints }: TableField): string | null {
  const { minimum, maximum } = constraints ?? {};
  const allowed = constraints?.enum;
  if (allowed && !allowed.some((one) => one === value)) return `one of ${allowed.join(", ")}`;
  if (minimum !== undefined && (value as number) < minimum) return `${minimum} or more`;
  if (maximum !== undefined && (value as number) > maximum) return `${maximum} or less`;
  return null;
}

/**
 * Reads a table of a package by its fields: the types, what must be there, the limits, and what no two rows may share.
 * Every fault is told, and a row with one is left out.
 */
export function readPackageTable(
  table: Pick<PackageTable, "fields">,
  file: SourceFile,
  faults: { add(faults: readonly Fault[]): void },
): PackageRow[] {
  const mustBe = (field: TableField) => field.constraints?.required === true;
  const opened = exactRows(file, {
    required: table.fields.filter(mustBe).map((field) => field.name),
    optional: table.fields.filter((field) => !mustBe(field)).map((field) => field.name),
  });
  if (!opened.ok) {
    faults.add(opened.faults);
    return [];
  }
  const rows: PackageRow[] = [];
  const seen = new Map(table.fields.map((field) => [field.name, new Map<string, number>()]));
  for (const row of opened.value.rows(faults)) {
    const own: Fault[] = [];
    const values: Record<string, unknown> = {};
    for (const field of table.fields) {
      const text = row.value(field.name);
      const refuse = (wanted: string) =>
        own.push({ place: row.place(field.name), found: quoteFound(text), wanted });
      values[field.name] = null;
      if (text === "") {
        if (mustBe(field)) refuse(typeWords[field.type]);
        continue;
      }
      const value = cellValue(text, field);
      const more = value === undefined ? null : beyond(value, field);
      if (value === undefined) refuse(typeWords[field.type]);
      else if (more !== null) refuse(more);
      values[field.name] = value ?? null;
      if (field.constraints?.unique !== true) continue;
      const lines = seen.get(field.name);
      const earlier = lines?.get(text);
      if (earlier !== undefined) refuse(`one of its own: line ${earlier} has it already`);
      lines?.set(text, row.line);
    }
    if (own.length > 0) faults.add(own);
    else rows.push({ line: row.line, place: row.place, values });
  }
  return rows;
}

/** Refuses what names a row of another table that is not there. */
export function refuseStrangers(
  tables: readonly PackageTable[],
  rowsOf: ReadonlyMap<string, readonly PackageRow[]>,
  faults: { add(faults: readonly Fault[]): void },
): void {
  for (const table of tables)
    for (const { field, table: other, to } of table.refers) {
      const named = new Set((rowsOf.get(other ?? table.name) ?? []).map((row) => row.values[to]));
      for (const row of rowsOf.get(table.name) ?? []) {
        const value = row.values[field];
        if (value === null || named.has(value)) continue;
        const wanted = `one of ${other ?? table.name}.csv`;
        faults.add([{ place: row.place(field), found: quoteFound(String(value)), wanted }]);
      }
    }
}
