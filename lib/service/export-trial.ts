import { strToU8, zipSync } from "fflate";
import { findTrial } from "@/db/queries/find-trial";
import { listAmendments } from "@/db/queries/list-amendments";
import type { RecordPlot, TrialRecord } from "@/lib/analysis/trial-record";
import {
  dataPackage,
  type ExportLicence,
  exportLicences,
  type PackageTable,
} from "@/lib/records/data-package";
import type { ObservationRow } from "@/lib/records/read-observations";
import { amendmentFields, writeAmendments } from "@/lib/records/write-amendments";
import { observationFields, writeObservations } from "@/lib/records/write-observations";
import { plotFields, writePlots } from "@/lib/records/write-plots";
import type { Observation } from "@/lib/words/observation";
import { designWords } from "@/lib/words/trial";
import type { House } from "./house";
import { trialRecord } from "./trial-record";

export interface TrialExport {
  /** `trial-2026-09-20-mustard-greens.zip`. */
  fileName: string;
  /** Text by file name, `datapackage.json` first. */
  files: Record<string, string>;
}

type ObservationCells = Omit<ObservationRow, "line" | "notes">;

/** The licence of this name; null for any other word. */
export function licenceNamed(name: string | null): ExportLicence | null {
  return exportLicences.find((licence) => licence.name === name)?.name ?? null;
}

function cellsOf(fact: Observation, plot: RecordPlot): ObservationCells {
  return {
    seenOn: fact.seenOn,
    plot: plot.code,
    kind: fact.kind,
    cause: fact.cause,
    trait: fact.trait,
    part: fact.part,
    amount: fact.amount,
    unit: fact.unit,
    by: fact.by || null,
    note: fact.note || null,
    id: fact.id,
    replaces: fact.replaces,
    setOutOn: fact.cohortOn,
  };
}

/**
 * The facts in the order in which they fold. One that now stands in another trial (a pick that was booked to the wrong
 * plot) is here the withdrawal of what it replaced, since its own plot is not in the file.
 */
function observationRows({ plots, facts }: TrialRecord): ObservationCells[] {
  const plotOf = new Map(plots.map((plot) => [plot.id, plot]));
  const byId = new Map(facts.map((fact) => [fact.id, fact]));
  return facts.flatMap((fact): ObservationCells[] => {
    const own = plotOf.get(fact.plotId);
    if (own) return [cellsOf(fact, own)];
    const replaced = byId.get(fact.replaces ?? "");
    const plot = plotOf.get(replaced?.plotId ?? "");
    if (!plot) return [];
    const blank = { cause: null, trait: null, part: null, amount: null, unit: null, cohortOn: null };
    const note = fact.note || "It was about a plot of another trial.";
    return [cellsOf({ ...fact, ...blank, kind: "withdrawn", note }, plot)];
  });
}

function tables(rows: ObservationCells[], hasAmendments: boolean): PackageTable[] {
  const ids = new Set(rows.map((row) => row.id));
  const isClosed = rows.every((row) => row.replaces === null || ids.has(row.replaces));
  const ofPlot = { field: "plot", table: "plots", to: "plot" };
  return [
    { name: "plots", title: "Plots", fields: plotFields, primaryKey: "plot", refers: [] },
    {
      name: "observations",
      title: "Observations",
      fields: observationFields,
      primaryKey: "id",
      refers: [ofPlot, ...(isClosed ? [{ field: "replaces", to: "id" }] : [])],
    },
    ...(hasAmendments
      ? [{ name: "amendments", title: "Amendments", fields: amendmentFields, refers: [ofPlot] }]
      : []),
  ];
}

/**
 * One trial in open formats: plots, observations (corrected and withdrawn ones too) and amendments as tables, and the
 * Data Package that describes them. The garden's place is not told. Null when there is no such trial.
 */
export function exportTrial(
  house: House,
  trialId: string,
  options: { licence?: ExportLicence | null } = {},
): TrialExport | null {
  const { database } = house;
  const trial = findTrial(database, trialId);
  const record = trialRecord(house, trialId);
  if (!trial || !record) return null;
  const codes = new Map(record.plots.map((plot) => [plot.id, plot.code]));
  const rows = observationRows(record);
  const amendments = listAmendments(database, trialId);
  const words = trial.crop.toLowerCase().replace(/[^a-z0-9]+/g, "-");
  const name = `trial-${trial.plantedOn}-${words}`.replace(/-+$/, "");
  const files: Record<string, string> = {
    "datapackage.json": dataPackage({
      id: trial.id,
      name,
      title: trial.question,
      description: `A trial of ${trial.crop}, ${designWords[trial.design]}; planted ${trial.plantedOn}.`,
      made: house.now(),
      licence: options.licence ?? null,
      contributors: [...new Set(rows.flatMap(({ by }) => by ?? []))].sort(),
      design: trial.design,
      tables: tables(rows, amendments.length > 0),
    }),
    "plots.csv": writePlots(record.plots.map(({ id: _, code, ...plot }) => ({ plot: code, ...plot }))),
    "observations.csv": writeObservations(rows),
  };
  if (amendments.length > 0)
    files["amendments.csv"] = writeAmendments(
      amendments.map(({ plotId, kind, fromOn, reason, by, madeAt }) => ({
        plot: codes.get(plotId ?? "") ?? null,
        kind,
        fromOn,
        reason,
        by,
        madeAt,
      })),
    );
  return { fileName: `${name}.zip`, files };
}

/** An export's files as one zip; the same record makes the same bytes but for the time at which it was made. */
export function zipExport(house: House, { files }: TrialExport): Uint8Array<ArrayBuffer> {
  const mtime = house.now();
  return zipSync(Object.fromEntries(Object.entries(files).map(([name, text]) => [name, strToU8(text)])), {
    mtime,
  });
}
