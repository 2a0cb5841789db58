import * as z from "zod/mini";
import { findColumnMapping } from "@/db/queries/find-column-mapping";
import { type ColumnMapping, guessMapping, mappingMisfits } from "@/lib/records/column-mapping";
import { type ImportField, importFields, type MappedKind, mappedKinds } from "@/lib/records/import-fields";
import { openTable } from "@/lib/records/open-table";
import type { Fault } from "@/lib/words/fault";
import type { House } from "./house";
import { type ImportKind, mappingSchema } from "./import-asked";
import { columnSignature } from "./import-table";
import { sourceOf, stagedFiles } from "./staged-files";

/** What is seen of a table before its columns are given their fields. */
export interface TableLook {
  file: string;
  /** How it is written down, in words. */
  manner: string;
  columns: string[];
  /** The first rows, for the eye. */
  rows: string[][];
  fields: readonly ImportField[];
  mapping: ColumnMapping;
  skipBlank: boolean;
  /** Whether the mapping is the one that such a file had before. */
  isRemembered: boolean;
}

export type FilesLook = { table: TableLook } | { table: null } | { faults: Fault[] };

const rowsShown = 6;
const longestCell = 80;

const encodingWords = {
  "utf-8": "UTF-8",
  "utf-16le": "UTF-16",
  "utf-16be": "UTF-16",
  "windows-1252": "Windows-1252",
};
const separatorWords = { ",": "commas", ";": "semicolons", "\t": "tabs", "|": "upright strokes" };

const rememberedSchema = z.object({ mapping: mappingSchema, skipBlank: z.boolean() });

function isMapped(kind: ImportKind): kind is MappedKind {
  return mappedKinds.some((one) => one === kind);
}

/** Looks at the beginning of a set's table and guesses its columns; what needs no columns is only counted. */
export function lookAtFiles(house: House, set: string, kind: ImportKind): FilesLook {
  const [file] = stagedFiles(house, set);
  if (!file) return { faults: [{ place: "file", found: "nothing", wanted: "a file" }] };
  if (!isMapped(kind)) return { table: null };
  const opened = openTable(sourceOf(file));
  if (!opened.ok) return { faults: opened.faults };
  const { columns, encoding, separator, rows } = opened.value;
  const first: string[][] = [];
  for (const { values } of rows()) {
    if (first.length === rowsShown) break;
    first.push(columns.map((_, index) => (values[index] ?? "").trim().slice(0, longestCell)));
  }
  const fields = importFields[kind];
  const kept = rememberedSchema.safeParse(findColumnMapping(house.database, kind, columnSignature(columns)));
  const isRemembered = kept.success && mappingMisfits(kept.data.mapping, columns, fields).length === 0;
  return {
    table: {
      file: file.name,
      manner: `${encodingWords[encoding]}, values separated by ${separatorWords[separator]}`,
      columns,
      rows: first,
      fields,
      mapping: isRemembered ? kept.data.mapping : guessMapping(columns, fields),
      skipBlank: isRemembered && kept.data.skipBlank,
      isRemembered,
    },
  };
}
