import { createHash } from "node:crypto";
import { inOneAct } from "@/db/open";
import { addImportedFile } from "@/db/queries/add-imported-file";
import { findGarden } from "@/db/queries/find-garden";
import { findTrial } from "@/db/queries/find-trial";
import { putColumnMapping } from "@/db/queries/put-column-mapping";
import type { FileManner } from "@/lib/records/cell-reader";
import { mappingMisfits, rowMapper } from "@/lib/records/column-mapping";
import { bothReadings, type DayOrder, tellDayOrder } from "@/lib/records/file-day";
import { importFields, type MappedKind } from "@/lib/records/import-fields";
import { type OpenTable, openTable, type SourceFile } from "@/lib/records/open-table";
import type { TableRow } from "@/lib/records/read-table";
import { spoiltCells } from "@/lib/records/spoilt-cells";
import { type Fault, quoteFound } from "@/lib/words/fault";
import { brokenRule } from "./broken-rule";
import { type FaultList, faultList } from "./fault-list";
import type { House } from "./house";
import {
  type ImportAnswer,
  type ImportAsked,
  type ImportOccasion,
  type ImportSteps,
  ImportStopped,
} from "./import-asked";
import { importObservations } from "./import-observations";
import { importVarieties } from "./import-varieties";
import { importWeather } from "./import-weather";

/** One reading of a table, row by row; the second of two also writes. */
export interface TableImport {
  tally: { rows: number; added: number; already: number };
  take(row: TableRow, faults: FaultList): void;
  /** After the last row. */
  finish(faults: FaultList): void;
  /** What else there is to know, a sentence each. */
  said(): string[];
}

/** Undoes the act in which faults were found after all. */
class FaultsAfterAll extends Error {}

const mostRows = 500_000;
const dateFields: Record<MappedKind, string[]> = {
  observations: ["seen_on", "set_out_on"],
  weather: ["day"],
  varieties: [],
};

/** The hash by which a table's columns are known again: their names in order, capitals or not. */
export function columnSignature(columns: readonly string[]): string {
  return createHash("sha256")
    .update(JSON.stringify(columns.map((name) => name.toLowerCase())))
    .digest("hex");
}

export function contentHash(files: readonly SourceFile[]): string {
  const hash = createHash("sha256");
  for (const file of files) for (const chunk of file.chunks()) hash.update(chunk);
  return hash.digest("hex");
}

interface TableReading {
  asked: ImportAsked & { kind: MappedKind };
  table: OpenTable;
  steps: ImportSteps;
}

function refuseColumns({ asked, table }: TableReading): Fault[] {
  const fields = importFields[asked.kind];
  return mappingMisfits(asked.mapping, table.columns, fields);
}

/** Every row that is to be read, with its cells by field. Rows without a figure are passed over where that was asked. */
function* mappedRows({ asked, table, steps }: TableReading, faults: FaultList): Generator<TableRow> {
  let count = 0;
  const toRow = rowMapper(table.name, table.columns, asked.mapping);
  const leavesBlank = asked.kind === "observations" && asked.skipBlank;
  for (const split of table.rows()) {
    count += 1;
    if (count % 256 === 0 && steps.isStopped()) throw new ImportStopped();
    if (count > mostRows) {
      const wanted = `at most ${mostRows} rows: part the file in two`;
      faults.add([{ place: `${table.name}:${split.line}:1`, found: "more rows", wanted }]);
      return;
    }
    const spoilt = spoiltCells(split, table.columns, table.name);
    if (spoilt.length > 0) {
      faults.add(spoilt);
      continue;
    }
    const row = toRow(split);
    if (leavesBlank && row.value("amount") === "") continue;
    yield row;
  }
}

type OpenDate = Omit<Extract<ImportAnswer, { state: "ambiguous" }>, "state">;

/** Which of day and month comes first in this file, or the first date that leaves it open. */
function orderOfDays(reading: TableReading): DayOrder | null | OpenDate {
  const { asked } = reading;
  if (asked.dayOrder) return asked.dayOrder;
  const fields = dateFields[asked.kind];
  let open: OpenDate | null = null;
  if (fields.length === 0) return null;
  for (const row of mappedRows(reading, faultList()))
    for (const field of fields) {
      const value = row.value(field);
      const told = tellDayOrder(value);
      if (told === "day first" || told === "month first") return told;
      const readings = told === "either" ? bothReadings(value) : null;
      if (readings) open ??= { example: value, place: row.place(field), readings };
    }
  return open;
}

function openReading(
  house: House,
  reading: TableReading,
  manner: FileManner,
  occasion: ImportOccasion,
  before: (TableImport & { marks?: ReadonlyMap<string, string> }) | null,
): TableImport & { marks?: ReadonlyMap<string, string> } {
  const { asked, table } = reading;
  const isWriting = before !== null;
  switch (asked.kind) {
    case "observations":
      return importObservations(house, {
        trialId: asked.trialId ?? "",
        file: table.name,
        manner,
        occasion,
        marks: before?.marks ?? null,
      });
    case "weather":
      return importWeather(house, { file: table.name, manner, occasion, isWriting });
    case "varieties":
      return importVarieties(house, { isWriting });
  }
}

function readThrough(reading: TableReading, into: TableImport, faults: FaultList): void {
  for (const row of mappedRows(reading, faults)) into.take(row, faults);
  into.finish(faults);
  if (into.tally.rows === 0 && faults.count === 0)
    faults.add([
      { place: `${reading.table.name}:2:1`, found: "nothing", wanted: "at least one row of values" },
    ]);
}

function noteImport(
  house: House,
  reading: TableReading,
  occasion: ImportOccasion,
  tally: TableImport["tally"],
): void {
  const { asked, table } = reading;
  const { database } = house;
  putColumnMapping(database, {
    kind: asked.kind,
    signature: columnSignature(table.columns),
    mapping: { mapping: asked.mapping, skipBlank: asked.skipBlank },
    usedAt: occasion.at,
  });
  // Weather notes its file itself, since its days name it.
  if (asked.kind === "weather" || tally.added === 0) return;
  addImportedFile(database, {
    id: occasion.id,
    gardenId: findGarden(database)?.id ?? "",
    kind: asked.kind,
    trialId: asked.trialId,
    name: table.name,
    contentHash: occasion.contentHash,
    rowCount: tally.rows,
    added: tally.added,
    importedAt: occasion.at,
  });
}

function saidOf(reading: TableReading, order: DayOrder | null, into: TableImport): string[] {
  const { asked, table } = reading;
  const used = new Set(
    Object.values(asked.mapping).flatMap((source) => ("column" in source ? source.column : [])),
  );
  const others = table.columns.filter((name, index) => name !== "" && !used.has(index));
  const becomes = asked.kind === "observations" ? "kept as notes" : "left out";
  return [
    ...into.said(),
    ...(order && !asked.dayOrder
      ? [`Dates of numbers only were read with the ${order.split(" ")[0]} first, as one of them can only be.`]
      : []),
    ...(others.length > 0 ? [`Columns without a field are ${becomes}: ${others.join(", ")}.`] : []),
  ];
}

/**
 * Tries a table, or takes it in: the whole file is read and every fault listed before a row is written; then all of it is
 * written in one act, or nothing. Read twice in pieces, so that no more than a piece of it is held.
 */
export function importTable(
  house: House,
  asked: ImportAsked & { kind: MappedKind },
  file: SourceFile,
  options: { isWriting: boolean; steps: ImportSteps },
): ImportAnswer {
  const { database } = house;
  const refuse = (faults: Fault[]): ImportAnswer => ({ state: "faulty", faults, count: faults.length });
  if (!findGarden(database))
    return refuse([{ place: "garden", found: "nothing", wanted: "a garden, made first" }]);
  if (asked.kind === "observations" && !(asked.trialId && findTrial(database, asked.trialId)))
    return refuse([{ place: "trialId", found: "nothing", wanted: "the trial that they belong to" }]);
  const opened = openTable(file);
  if (!opened.ok) return refuse(opened.faults);
  const reading: TableReading = { asked, table: opened.value, steps: options.steps };
  const misfits = refuseColumns(reading);
  if (misfits.length > 0) return refuse(misfits);
  const order = orderOfDays(reading);
  if (order !== null && typeof order === "object") return { state: "ambiguous", ...order };

  const manner = { decimalComma: opened.value.separator === ";", dayOrder: order };
  const occasion = { id: house.newId(), at: house.now(), contentHash: contentHash([file]) };
  const faults = faultList();
  const trying = openReading(house, reading, manner, occasion, null);
  readThrough(reading, trying, faults);
  const listed = (): ImportAnswer => ({ state: "faulty", faults: faults.listed, count: faults.count });
  if (faults.count > 0) return listed();
  const answer = (state: "ready" | "done", from: TableImport): ImportAnswer => ({
    state,
    ...from.tally,
    said: saidOf(reading, order, from),
    trialId: asked.trialId,
    replies: [],
  });
  if (!options.isWriting) return answer("ready", trying);
  try {
    return inOneAct(database, () => {
      const writing = openReading(house, reading, manner, occasion, trying);
      readThrough(reading, writing, faults);
      if (faults.count > 0) throw new FaultsAfterAll();
      noteImport(house, reading, occasion, writing.tally);
      return answer("done", writing);
    });
  } catch (fault) {
    if (fault instanceof FaultsAfterAll) return listed();
    const broken = brokenRule(fault);
    if (broken === null) throw fault;
    const wanted = "rows that the garden’s file can hold";
    return refuse([{ place: `${file.name}:1:1`, found: quoteFound(broken), wanted }]);
  }
}
