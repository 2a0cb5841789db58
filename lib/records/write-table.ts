import Papa from "papaparse";
import { neutralCell } from "./neutral-cell";

export type Cell = string | number | null;

/** A column as the Table Schema of a Data Package knows it. */
export interface TableField {
  name: string;
  type: "string" | "integer" | "number" | "boolean" | "date" | "datetime" | "object" | "array";
  /** How it is written, where that is not the type's own way. */
  format?: string;
  description: string;
  constraints?: {
    required?: boolean;
    unique?: boolean;
    minimum?: number;
    maximum?: number;
    enum?: readonly string[];
  };
  /** What the column is called in MIAPPE 1.2, the checklist for plant trials; only where it is the same thing. */
  miappe?: string;
}

/** The row of the fields' names. */
export function tableHead(fields: readonly TableField[]): string {
  return `${Papa.unparse([fields.map((field) => field.name)])}\r\n`;
}

/**
 * Rows as comma-separated values (RFC 4180, ends of line as CR LF). Null is blank; a value that would be taken for a
 * formula is made harmless.
 */
export function tableRows(rows: readonly Cell[][]): string {
  if (rows.length === 0) return "";
  const data = rows.map((row) => row.map((cell) => (typeof cell === "string" ? neutralCell(cell) : cell)));
  return `${Papa.unparse(data, { newline: "\r\n" })}\r\n`;
}

/** A whole file: see `tableHead` and `tableRows`. */
export function writeTable(fields: readonly TableField[], rows: readonly Cell[][]): string {
  return tableHead(fields) + tableRows(rows);
}
