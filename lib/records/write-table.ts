import Papa from "papaparse";
import { neutralCell } from "./neutral-cell";

export type Cell = string | number | null;

/** A column as the Table Schema of a Data Package knows it. */
export interface TableField {
  name: string;
  type: "string" | "integer" | "number" | "date" | "datetime";
  description: string;
  constraints?: { required?: boolean; unique?: boolean; minimum?: number; enum?: readonly string[] };
}

/**
 * Rows as a file of comma-separated values (RFC 4180, ends of line as CR LF), under a row of the fields' names. Null is
 * blank; a value that would be taken for a formula is made harmless.
 */
export function writeTable(fields: readonly TableField[], rows: readonly Cell[][]): string {
  const data = rows.map((row) => row.map((cell) => (typeof cell === "string" ? neutralCell(cell) : cell)));
  const text = Papa.unparse([fields.map((field) => field.name), ...data], { newline: "\r\n" });
  return `${text}\r\n`;
}
