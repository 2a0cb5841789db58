import { readFileSync, statSync } from "node:fs";
import { basename } from "node:path";
import { type Database, openReadOnly } from "@/db/open";
import { findGarden } from "@/db/queries/find-garden";
import { listPictures } from "@/db/queries/list-pictures";
import { listRecorders } from "@/db/queries/list-recorders";
import { walkGardenTable } from "@/db/queries/walk-garden-table";
import { dataPackage, type ExportLicence } from "@/lib/records/data-package";
import { type GardenTableName, gardenTables } from "@/lib/records/garden-tables";
import { tableHead, tableRows } from "@/lib/records/write-table";
import { type ZippedFile, zipPieces } from "@/lib/records/zip-pieces";
import type { House } from "./house";
import { pictureFile } from "./picture-file";
import { todayAt } from "./today-at";

const rowsAPiece = 1_000;
const encoder = new TextEncoder();

type Row = (string | number | null)[];

/** To a tenth of a degree, some ten kilometres: near enough for the weather, too far to find the gate. */
function blurred(columns: readonly string[], row: Row): Row {
  return row.map((value, index) =>
    /^(latitude|longitude)$/.test(columns[index]) ? Math.round(Number(value) * 10) / 10 : value,
  );
}

function* tablePieces(database: Database, name: GardenTableName, exactPlace: boolean): Generator<Uint8Array> {
  const table = gardenTables.find((one) => one.name === name) as (typeof gardenTables)[number];
  const columns = table.fields.map((field) => field.name);
  yield encoder.encode(tableHead(table.fields));
  let rows: Row[] = [];
  for (const row of walkGardenTable(database, name, columns)) {
    rows.push(name === "garden" && !exactPlace ? blurred(columns, row) : row);
    if (rows.length < rowsAPiece) continue;
    yield encoder.encode(tableRows(rows));
    rows = [];
  }
  yield encoder.encode(tableRows(rows));
}

/**
 * Bytes as a stream that is written only as fast as it is read, from one moment's state of the garden: a connection of its
 * own holds that state, so that recording goes on meanwhile. It is let go when the stream ends or is given up.
 */
function streamOf(
  { database, report }: House,
  write: (own: Database) => Iterable<Uint8Array>,
): ReadableStream<Uint8Array> {
  function* pieces(): Generator<Uint8Array> {
    const own = openReadOnly(database.$client.name);
    try {
      own.$client.exec("BEGIN");
      yield* write(own);
    } finally {
      own.$client.close();
    }
  }
  const walk = pieces();
  return new ReadableStream<Uint8Array>({
    pull(controller) {
      try {
        const { value, done } = walk.next();
        if (done) controller.close();
        else controller.enqueue(value);
      } catch (fault) {
        report?.(fault);
        controller.error(fault);
      }
    },
    cancel() {
      walk.return(undefined);
    },
  });
}

export interface ExportOptions {
  licence: ExportLicence | null;
  /** Whether the garden's place is told exactly; otherwise to a tenth of a degree. */
  exactPlace: boolean;
}

/**
 * The whole garden in open formats as one zip: every table, the pictures, and the Data Package that describes them. Null
 * when there is no garden yet.
 */
export function exportGarden(
  house: House,
  { licence, exactPlace }: ExportOptions,
): { fileName: string; stream: ReadableStream<Uint8Array> } | null {
  const garden = findGarden(house.database);
  if (!garden) return null;
  const name = `garden-${todayAt(house)}`;
  const madeAt = house.now();
  function* files(own: Database): Generator<ZippedFile> {
    const pictures = listPictures(own).flatMap(({ sha256, mediaType }) => {
      const file = pictureFile(house.dataFolder, sha256, mediaType);
      const found = statSync(file, { throwIfNoEntry: false });
      const path = `pictures/${basename(file)}`;
      return found ? [{ name: `picture-${sha256}`, path, mediaType, bytes: found.size, file }] : [];
    });
    const described = dataPackage({
      id: garden?.id ?? "",
      name,
      title: garden?.name ?? "",
      description:
        "Every record of a garden: beds, covers, varieties, trials, what was seen, and what was decided.",
      made: madeAt,
      licence,
      contributors: listRecorders(own),
      tables: gardenTables,
      others: pictures.map(({ file: _, ...picture }) => picture),
    });
    yield { name: "datapackage.json", pieces: [encoder.encode(described)] };
    for (const table of gardenTables)
      yield { name: `${table.name}.csv`, pieces: tablePieces(own, table.name, exactPlace) };
    for (const { path, file } of pictures) yield { name: path, isPacked: true, pieces: [readFileSync(file)] };
  }
  return { fileName: `${name}.zip`, stream: streamOf(house, (own) => zipPieces(files(own), madeAt)) };
}

/** One table of the garden as a file of comma-separated values; null when there is no table of that name. */
export function exportTable(
  house: House,
  name: string,
  { exactPlace }: Pick<ExportOptions, "exactPlace">,
): { fileName: string; stream: ReadableStream<Uint8Array> } | null {
  const table = gardenTables.find((one) => one.name === name);
  if (!table) return null;
  const fileName = `${table.name}.csv`;
  return { fileName, stream: streamOf(house, (own) => tablePieces(own, table.name, exactPlace)) };
}
