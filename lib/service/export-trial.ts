import { strToU8, zipSync } from "fflate";
import { listVerdicts } from "@/db/queries/list-verdicts";
import type { RecordPlot, TrialRecord } from "@/lib/analysis/trial-record";
import {
  dataPackage,
  type ExportLicence,
  exportLicences,
  type PackageTable,
} from "@/lib/records/data-package";
import type { ObservationRow } from "@/lib/records/read-observations";
import { type TrialTableName, trialTables } from "@/lib/records/trial-tables";
import { writeObservations } from "@/lib/records/write-observations";
import { writePlots } from "@/lib/records/write-plots";
import { type Cell, writeTable } from "@/lib/records/write-table";
import type { Observation } from "@/lib/words/observation";
import { designWords } from "@/lib/words/trial";
import type { House } from "./house";
import { trialRecord } from "./trial-record";
import type { Use } from "./trial-verdicts";
import { type TrialView, trialView } from "./trial-view";

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
    recordedAt: fact.recordedAt,
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

/** Everything but plots and observations, row by row under the columns of `trialTables`. */
function furtherRows(house: House, trial: TrialView): Partial<Record<TrialTableName, Cell[][]>> {
  const bedNames = new Map(trial.beds.map((bed) => [bed.id, bed.name]));
  const codes = new Map(trial.plots.map((plot) => [plot.id, plot.code]));
  const varieties = new Map(trial.entries.map((entry) => [entry.id, entry.variety]));
  return {
    trial: [
      [
        trial.id,
        trial.question,
        trial.purpose,
        trial.crop,
        trial.design,
        trial.seed,
        trial.blocks,
        trial.plantsPerPlot,
        trial.betweenPlantsMm,
        trial.betweenRowsMm,
        trial.sownOn,
        trial.plantedOn,
        trial.decidingAssessment,
        trial.pickingRule,
        trial.clearBy,
        trial.fallbackOn,
        trial.closedOn,
        trial.plotsPerBlock,
        trial.gradient,
        trial.guardRows,
        trial.pathSide,
      ],
    ],
    entries: trial.entries.map(({ variety, role, packetClaim }) => [variety, role, packetClaim]),
    beds: trial.beds.map(({ name, widthMm, lengthMm, potMm }) => [name, widthMm, lengthMm, potMm]),
    places: trial.plots.map((plot) => [
      plot.code,
      bedNames.get(plot.bedId) ?? null,
      plot.xMm,
      plot.yMm,
      plot.widthMm,
      plot.lengthMm,
      plot.plantRows,
      plot.under,
    ]),
    "taken-up": trial.beds.flatMap((bed) => bed.takenUp.map(({ fromMm, toMm }) => [bed.name, fromMm, toMm])),
    covers: trial.covers.map(({ name, kind, fromOn, untilOn }) => [name, kind, fromOn, untilOn]),
    "main-levels": trial.levels.map((level) => [
      level.words,
      level.factor,
      level.cover?.name ?? null,
      level.cover?.kind ?? null,
      level.fromOn,
      level.untilOn,
      level.sownOn,
      level.companion?.name ?? null,
    ]),
    companions: [...trial.companions, ...trial.levels.flatMap((level) => level.companion ?? [])].map(
      (one) => [one.name, one.habit, one.sownOn, one.betweenPlantsMm],
    ),
    assessments: trial.assessments.map(({ name, dueOn }) => [name, dueOn]),
    rules: trial.rules.map((rule) => [
      rule.version,
      rule.survivalFloor,
      rule.yieldFloor,
      rule.sureness,
      JSON.stringify(rule.qualities),
      rule.reason,
      rule.setAt,
    ]),
    amendments: trial.amendments.map(({ plotId, kind, fromOn, plantedVariety, reason, by, madeAt }) => [
      codes.get(plotId ?? "") ?? null,
      kind,
      fromOn,
      plantedVariety,
      reason,
      by || null,
      madeAt,
    ]),
    verdicts: listVerdicts(house.database, trial.id).map((verdict) => [
      varieties.get(verdict.entryId) ?? null,
      (verdict.use as Use).purpose,
      verdict.proposal,
      verdict.choice,
      verdict.reason,
      verdict.by || null,
      verdict.decidedOn,
      verdict.decidedAt,
    ]),
  };
}

/** A fact that came home before the one it corrects names something that is not in the file: no key then. */
function described(table: PackageTable, rows: ObservationCells[]): PackageTable {
  const ids = new Set(rows.map((row) => row.id));
  const isClosed = rows.every((row) => row.replaces === null || ids.has(row.replaces));
  return table.name !== "observations" || isClosed
    ? table
    : { ...table, refers: table.refers.filter(({ field }) => field !== "replaces") };
}

/**
 * One trial in open formats: plots and observations (corrected and withdrawn ones too), its plan, rules, amendments and
 * verdicts as tables, and the Data Package that describes them. A table without rows is left out. The garden's place is
 * not told. Null when there is no such trial.
 */
export function exportTrial(
  house: House,
  trialId: string,
  options: { licence?: ExportLicence | null } = {},
): TrialExport | null {
  const trial = trialView(house, trialId);
  const record = trialRecord(house, trialId);
  if (!trial || !record) return null;
  const rows = observationRows(record);
  const further = furtherRows(house, trial);
  const words = trial.crop.toLowerCase().replace(/[^a-z0-9]+/g, "-");
  const name = `trial-${trial.plantedOn}-${words}`.replace(/-+$/, "");
  const texts: Partial<Record<TrialTableName, string>> = {
    plots: writePlots(
      record.plots.map(({ id: _, code, companion = null, ...plot }) => ({ plot: code, companion, ...plot })),
    ),
    observations: writeObservations(rows),
  };
  for (const table of trialTables) {
    const own = further[table.name] ?? [];
    if (own.length > 0) texts[table.name] = writeTable(table.fields, own);
  }
  const tables = trialTables.filter((table) => texts[table.name] !== undefined);
  const files: Record<string, string> = {
    "datapackage.json": dataPackage({
      id: trial.id,
      name,
      title: trial.question,
      description: `A trial of ${trial.crop}, ${designWords[trial.design]}; planted ${trial.plantedOn}.`,
      made: house.now(),
      licence: options.licence ?? null,
      contributors: [...new Set(rows.flatMap(({ by }) => by ?? []))].sort(),
      more: { design: trial.design },
      tables: tables.map((table) => described(table, rows)),
    }),
  };
  for (const { name: table } of tables) files[`${table}.csv`] = texts[table] ?? "";
  return { fileName: `${name}.zip`, files };
}

/** An export's files as one zip; the same record makes the same bytes but for the time at which it was made. */
export function zipExport(house: House, { files }: TrialExport): Uint8Array<ArrayBuffer> {
  const mtime = house.now();
  return zipSync(Object.fromEntries(Object.entries(files).map(([name, text]) => [name, strToU8(text)])), {
    mtime,
  });
}
