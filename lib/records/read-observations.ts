import { causes, removalReasons } from "@/lib/words/cause";
import type { Day } from "@/lib/words/day";
import { type Fault, type Outcome, quoteFound, refusal, success } from "@/lib/words/fault";
import { growthStage, lastGrowthStage } from "@/lib/words/growth-stage";
import type { Instant } from "@/lib/words/instant";
import {
  type HarvestPart,
  harvestParts,
  type ObservationKind,
  type ObservationUnit,
  observationKinds,
  observationUnits,
} from "@/lib/words/observation";
import { type CellReader, cellReader, type FileManner } from "./cell-reader";
import type { PlotRow } from "./read-plots";
import { readTable, type TableRow } from "./read-table";

/** One row of `observations.csv`, in the file's order. */
export interface ObservationRow {
  line: number;
  seenOn: Day;
  plot: string;
  kind: ObservationKind;
  /** A listed cause's code, or the grower's own words as a code; a loss without one is *unknown*. */
  cause: string | null;
  trait: string | null;
  part: HarvestPart | null;
  /** A harvest without an amount was not picked. Files may hold parts of a gram. */
  amount: number | null;
  unit: ObservationUnit | null;
  by: string | null;
  note: string | null;
  /** As the file has them: UUIDs, or marks that hold within the file only. */
  id: string | null;
  replaces: string | null;
  /** When the plants concerned were set out; null is the plot's planting. */
  setOutOn: Day | null;
  /** When it was written down; null where the file does not say. */
  recordedAt: Instant | null;
  /** Columns that the format does not know, by name. */
  notes: Record<string, string>;
}

export interface ObservationsFile {
  rows: ObservationRow[];
  unknownColumns: string[];
}

const required = ["seen_on", "plot", "kind"];
const optional = [
  "cause",
  "trait",
  "part",
  "amount",
  "unit",
  "by",
  "note",
  "id",
  "replaces",
  "set_out_on",
  "recorded_at",
];
/** The columns of the format, those that must be there first. */
export const observationColumns = { required, optional };
const uuid = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i;

const plantKinds: readonly ObservationKind[] = ["stand", "loss", "removed", "added", "regrew", "doubtful"];
const unitsOf: Partial<Record<ObservationKind, readonly ObservationUnit[]>> = {
  ...Object.fromEntries(plantKinds.map((kind) => [kind, ["plants"]])),
  score: ["score", "percent"],
  count: ["count"],
  harvest: ["g", "count"],
};

function listed(words: readonly string[]): string {
  return `${words.slice(0, -1).join(", ")} or ${words.at(-1)}`;
}

/** A cause as its code, from its code or its words; anything else becomes a code of the grower's own. */
function causeCode(text: string): string {
  const plain = text.toLowerCase();
  const known = [...causes, ...removalReasons].find(({ code, words }) => code === plain || words === plain);
  return known?.code ?? plain.replace(/\s+/g, "-");
}

function oneOf<Word extends string>(
  row: TableRow,
  cell: CellReader,
  column: string,
  words: readonly Word[],
): Word | null {
  const value = row.value(column);
  if (value === "") return null;
  const word = words.find((one) => one === value.toLowerCase());
  if (word === undefined) cell.refuse(column, listed(words));
  return word ?? null;
}

/** The growth stage is known in capitals too. */
function isGrowthStage(trait: string | null): boolean {
  return trait?.toLowerCase() === growthStage;
}

/** Weights may be written with their unit, or have `kg` for the whole row; they are kept in grams. */
function readAmount(
  row: TableRow,
  cell: CellReader,
  kind: ObservationKind,
  unit: ObservationUnit | null,
): number | null {
  if (plantKinds.includes(kind))
    return cell.number("amount", {
      whole: true,
      minimum: 0,
      maximum: 100_000,
      wanted: "a whole number of plants",
    });
  if (kind === "score") {
    const [maximum, wanted] =
      unit === "percent" ? [100, "a percentage from 0 to 100"] : [9, "a score from 0 to 9"];
    return cell.number("amount", { minimum: 0, maximum, wanted });
  }
  if (kind === "harvest" && unit !== "count")
    return cell.weightG(
      "amount",
      row.value("unit"),
      "a weight such as 450 or 1.2 kg, 0 or more; blank where it was not picked",
    );
  if (kind === "count" && isGrowthStage(row.value("trait")))
    return cell.number("amount", {
      whole: true,
      minimum: 0,
      maximum: lastGrowthStage,
      wanted: "a growth stage (BBCH) from 00 to 99",
    });
  const whole = kind === "count" || unit === "count";
  const wanted = whole ? "a whole number, 0 or more" : "0 or more; blank where it was not picked";
  return cell.number("amount", { whole, minimum: 0, maximum: 1_000_000, wanted });
}

function refuseWhatIsMissing(row: TableRow, cell: CellReader, kind: ObservationKind): void {
  const lacks = (column: string) => row.value(column) === "";
  if ([...plantKinds, "score", "count"].includes(kind) && lacks("amount"))
    cell.refuse("amount", plantKinds.includes(kind) ? "a whole number of plants" : "a figure");
  if (kind === "removed" && lacks("cause")) cell.refuse("cause", "a reason such as cut, thinned or moved");
  if ((kind === "score" || kind === "count") && lacks("trait")) cell.refuse("trait", "what the figure is of");
  if (kind === "withdrawn" && lacks("replaces")) cell.refuse("replaces", "the id of the row withdrawn");
  if (kind === "withdrawn" && lacks("note")) cell.refuse("note", "why it is withdrawn");
}

/** What an observation's row is read against. */
export interface ObservedPlot {
  plot: string;
  plantedOn: Day | null;
}

/** Reads the rows of one file in turn, and knows what only the whole file can tell. */
export interface ObservationReader {
  /** The row as far as it could be read: one with faults is never to be used. */
  read(row: TableRow, faults: Fault[]): ObservationRow;
  /** After the last row: what names a row that is not there. */
  finish(faults: Fault[]): void;
}

/**
 * Reads rows of observations against the plots they are about. A blank unit is the kind's own (plants, g, score, count);
 * weights may be in kilograms.
 *
 * @param manner how a file of somebody's own making writes dates and figures; a plot's name may then differ in capitals
 */
export function observationReader(
  plots: readonly ObservedPlot[],
  placeOf: (line: number, column: string) => string,
  manner?: FileManner,
): ObservationReader {
  const plotOf = new Map(plots.map((row) => [row.plot, row]));
  const inSmall = new Map(plots.map((row) => [row.plot.toLowerCase(), row]));
  const lineOfId = new Map<string, number>();
  const named: { line: number; replaces: string }[] = [];

  function readPlot(cell: CellReader): ObservedPlot | undefined {
    const name = cell.text("plot", 80) ?? "";
    const near = inSmall.get(name.toLowerCase());
    const plot = plotOf.get(name) ?? (manner && inSmall.size === plotOf.size ? near : undefined);
    if (!plot)
      cell.refuse(
        "plot",
        near
          ? `${near.plot}, as it is written in the plots file`
          : manner
            ? "a plot of the trial"
            : "a plot named in the plots file",
      );
    return plot;
  }

  return {
    read(row, faults) {
      const cell = cellReader(row, faults, manner);
      const seenOn = cell.day("seen_on");
      if (row.value("seen_on") === "") cell.refuse("seen_on", "a date such as 4 Mar 2027 or 2027-03-04");
      const plot = readPlot(cell);
      const kind = oneOf(row, cell, "kind", observationKinds);
      if (row.value("kind") === "") cell.refuse("kind", listed(observationKinds));
      const isKilograms = kind === "harvest" && /^k(g|ilos?|ilograms?)\.?$/i.test(row.value("unit"));
      const given = isKilograms ? "g" : oneOf(row, cell, "unit", observationUnits);
      const units = kind === null ? undefined : unitsOf[kind];
      if (given !== null && units && !units.includes(given)) cell.refuse("unit", units.join(" or "));
      const unit = given ?? units?.[0] ?? null;
      const amount = kind === null ? null : readAmount(row, cell, kind, unit);
      if (kind !== null) refuseWhatIsMissing(row, cell, kind);
      const moves = kind !== null && (plantKinds.includes(kind) || kind === "harvest");
      if (moves && seenOn && plot?.plantedOn && seenOn < plot.plantedOn)
        cell.refuse("seen_on", `the plot's planting date, ${plot.plantedOn}, or later`);

      const cause = cell.text("cause", 120);
      const trait = cell.text("trait", 120);
      const id = cell.text("id", 120);
      if (id !== null) {
        const earlier = lineOfId.get(id);
        if (earlier !== undefined) cell.refuse("id", `an id of its own: line ${earlier} has it already`);
        else lineOfId.set(id, row.line);
      }
      const replaces = cell.text("replaces", 120);
      if (replaces !== null && !uuid.test(replaces)) named.push({ line: row.line, replaces });
      return {
        line: row.line,
        // A row with a fault is never handed on; the stand-ins only keep its shape.
        seenOn: seenOn ?? ("" as Day),
        plot: plot?.plot ?? "",
        kind: kind ?? "note",
        cause: cause === null ? (kind === "loss" ? "unknown" : null) : causeCode(cause),
        trait: isGrowthStage(trait) ? growthStage : trait,
        part: oneOf(row, cell, "part", harvestParts),
        amount,
        unit,
        by: cell.text("by", 120),
        note: cell.text("note", 10_000),
        id,
        replaces,
        setOutOn: cell.day("set_out_on"),
        recordedAt: cell.instant("recorded_at"),
        notes: row.notes,
      };
    },
    finish(faults) {
      for (const { line, replaces } of named)
        if (!lineOfId.has(replaces))
          faults.push({
            place: placeOf(line, "replaces"),
            found: quoteFound(replaces),
            wanted: "the id of a row in this file, or a full id",
          });
    },
  };
}

/**
 * Reads `observations.csv` against the plots it is about: every row, or every fault with its place as
 * `file:line:column`, what was found and what is wanted. Columns may come in any order; unknown ones are kept as notes
 * and named.
 *
 * @param text the file's content, decoded as UTF-8
 * @param file its name, for the places of faults
 * @param plots the rows of the plots file
 */
export function readObservations(
  text: string,
  file: string,
  plots: readonly PlotRow[],
): Outcome<ObservationsFile> {
  const table = readTable(text, file, required, optional);
  if (!table.ok) return table;
  const faults: Fault[] = [];
  const reader = observationReader(plots, (line, column) => `${file}:${line}:${column}`);
  const rows = table.value.rows.map((row) => reader.read(row, faults));
  reader.finish(faults);
  return faults.length > 0 ? refusal(faults) : success({ rows, unknownColumns: table.value.unknownColumns });
}
