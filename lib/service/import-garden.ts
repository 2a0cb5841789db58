import { inOneAct } from "@/db/open";
import { addGardenRows, isFilledTable } from "@/db/queries/add-garden-row";
import { addImportedFile } from "@/db/queries/add-imported-file";
import { appendWeatherDay } from "@/db/queries/append-weather-day";
import { findGarden } from "@/db/queries/find-garden";
import { listCauses } from "@/db/queries/list-causes";
import { listCohorts } from "@/db/queries/list-cohorts";
import { putStand } from "@/db/queries/put-stand";
import { gardenTables } from "@/lib/records/garden-tables";
import type { SourceFile } from "@/lib/records/open-table";
import { type PackageRow, readPackageTable, refuseStrangers } from "@/lib/records/read-package-table";
import type { BedFact } from "@/lib/words/bed-fact";
import { bedFactMisfit, bedFactSchema } from "@/lib/words/bed-fact-schema";
import type { Day } from "@/lib/words/day";
import { type Fault, quoteFound } from "@/lib/words/fault";
import { type Observation, observationMisfit, observationSchema } from "@/lib/words/observation";
import { brokenRule } from "./broken-rule";
import { faultList } from "./fault-list";
import type { House } from "./house";
import { type ImportAnswer, type ImportSteps, ImportStopped } from "./import-asked";
import { contentHash } from "./import-table";
import { FactRefused, keepBedFact, keepTogether } from "./keep-fact";
import { keepPicture } from "./keep-picture";
import { readForm } from "./read-form";
import { refoldCohort } from "./refold-cohort";
import { unpackFiles, wholeBytes } from "./unpack-files";

/** Undoes the act: in trying. */
class OnlyTried extends Error {}

const packageNames = new Set([...gardenTables.map((table) => `${table.name}.csv`), "datapackage.json"]);
const pictureFile = /^([0-9a-f]{64})\.\w+$/;

type Values = Record<string, never>;

/** A value as the garden's file holds it. */
function stored(value: unknown): string | number | null {
  if (typeof value === "boolean") return value ? 1 : 0;
  if (typeof value === "object" && value !== null) return JSON.stringify(value);
  return value as string | number | null;
}

function byReceipt(rows: readonly PackageRow[]): Values[] {
  return [...rows]
    .sort((one, other) => Number(one.values.seq) - Number(other.values.seq))
    .map((row) => row.values as Values);
}

function plantingDays(rowsOf: ReadonlyMap<string, readonly PackageRow[]>): Map<string, Day> {
  const trials = rowsOf.get("trials") ?? [];
  return new Map(trials.map(({ values }) => [String(values.id), values.planted_on as Day]));
}

/** A fact of a plot as its device recorded it. What no device left out is left out again. */
function plotFact(row: Values, plantedOn: ReadonlyMap<string, Day>): Observation {
  const setOutOn = String(row.cohort_id).split("/").at(-1) as Day;
  return {
    id: row.id,
    deviceId: row.device_id,
    deviceSequence: row.device_seq,
    walkaboutId: row.walkabout_id,
    plotId: row.plot_id,
    cohortOn: setOutOn === plantedOn.get(row.trial_id) ? null : setOutOn,
    kind: row.kind,
    cause: row.cause,
    trait: row.trait,
    part: row.part,
    amount: row.amount,
    unit: row.unit,
    seenOn: row.seen_on,
    recordedAt: row.recorded_at,
    replaces: row.replaces,
    by: row.by ?? "",
    note: row.note,
    ...(row.clock_skew_s !== null && { clockSkewS: row.clock_skew_s }),
    ...(row.picture !== null && { picture: row.picture }),
  };
}

function bedFact(row: Values): BedFact {
  return {
    id: row.id,
    deviceId: row.device_id,
    deviceSequence: row.device_seq,
    walkaboutId: row.walkabout_id,
    bedId: row.bed_id,
    kind: row.kind,
    what: row.what,
    reach: row.reach,
    amount: row.amount,
    unit: row.unit,
    seenOn: row.seen_on,
    recordedAt: row.recorded_at,
    clockSkewS: row.clock_skew_s,
    replaces: row.replaces,
    picture: row.picture,
    by: row.by ?? "",
    note: row.note,
  };
}

/** What is wrong with facts as facts, by the same reading as when a phone sends them. */
function factFaults(rowsOf: ReadonlyMap<string, readonly PackageRow[]>): Fault[] {
  const check = <Some>(
    row: PackageRow,
    schema: typeof observationSchema | typeof bedFactSchema,
    fact: Some,
    misfit: (fact: Some) => { field: string; wanted: string } | null,
  ): Fault[] => {
    const form = readForm<typeof observationSchema | typeof bedFactSchema>(schema, fact);
    if (!form.ok) return form.faults.map((fault) => ({ ...fault, place: row.place(fault.place) }));
    const wrong = misfit(fact);
    if (!wrong) return [];
    const found = (fact as Record<string, unknown>)[wrong.field];
    return [{ place: row.place(wrong.field), found: quoteFound(String(found ?? "")), wanted: wrong.wanted }];
  };
  const days = plantingDays(rowsOf);
  return [
    ...(rowsOf.get("observations") ?? []).flatMap((row) =>
      check(row, observationSchema, plotFact(row.values as Values, days), observationMisfit),
    ),
    ...(rowsOf.get("bed-observations") ?? []).flatMap((row) =>
      check(row, bedFactSchema, bedFact(row.values as Values), bedFactMisfit),
    ),
  ];
}

/** What a package does not tell: beds are of its one garden; who is at the computer at home is said anew. */
function untoldOf(table: string, gardenId: string): Record<string, string | number> {
  if (table === "beds") return { garden_id: gardenId };
  return table === "people" ? { at_home: 0 } : {};
}

/** Stores everything in the order in which one thing rests on another. To be called within one act. */
function store(
  house: House,
  rowsOf: ReadonlyMap<string, readonly PackageRow[]>,
  source: { id: string; name: string; hash: string; rows: number },
  steps: ImportSteps,
): void {
  const { database } = house;
  const known = new Set(listCauses(database).map(({ code }) => code));
  const gardenId = String(rowsOf.get("garden")?.[0].values.id);
  for (const table of gardenTables) {
    const rows = rowsOf.get(table.name) ?? [];
    if (!isFilledTable(table.name) || table.name === "causes" || rows.length === 0) continue;
    const columns = table.fields.map((field) => field.name);
    const untold = Object.entries(untoldOf(table.name, gardenId));
    addGardenRows(
      database,
      table.name,
      [...columns, ...untold.map(([column]) => column)],
      rows.map(({ values }) => [
        ...columns.map((column) => stored(values[column])),
        ...untold.map(([, value]) => value),
      ]),
    );
  }
  const own = (rowsOf.get("causes") ?? []).filter(({ values }) => !known.has(String(values.code)));
  addGardenRows(
    database,
    "causes",
    ["code", "words", "takes", "position"],
    own.map(({ values }) => [values.code, values.words, values.takes, values.position].map(stored)),
  );
  addImportedFile(database, {
    id: source.id,
    gardenId,
    kind: "garden",
    trialId: null,
    name: source.name,
    contentHash: source.hash,
    rowCount: source.rows,
    added: source.rows,
    importedAt: house.now(),
  });
  const deci = (value: unknown) => (value === null ? null : Math.round(Number(value) * 10));
  for (const { values } of rowsOf.get("weather") ?? [])
    appendWeatherDay(database, {
      gardenId,
      day: values.day as Day,
      place: String(values.place),
      minDeciC: deci(values.min_c),
      maxDeciC: deci(values.max_c),
      sourceId: source.id,
    });
  const plantedOn = plantingDays(rowsOf);
  const keeping = keepTogether(house);
  for (const row of byReceipt(rowsOf.get("observations") ?? [])) {
    if (steps.isStopped()) throw new ImportStopped();
    keeping.keep(plotFact(row, plantedOn));
  }
  keeping.finish();
  for (const row of byReceipt(rowsOf.get("bed-observations") ?? [])) {
    const reply = keepBedFact(house, bedFact(row));
    if (reply.answer !== "recorded") throw new FactRefused(`the fact ${reply.id} of a bed cannot be kept`);
  }
  for (const cohort of listCohorts(database)) putStand(database, refoldCohort(database, cohort.id));
}

/**
 * Takes in a whole garden from its package, into a data folder that holds none yet: every table, the facts by the way of
 * all facts, in one act; then the pictures, each under its own hash. Trying does the same and undoes it.
 */
export function importGarden(
  house: House,
  files: readonly SourceFile[],
  { isWriting, steps }: { isWriting: boolean; steps: ImportSteps },
): ImportAnswer {
  const { database } = house;
  const faults = faultList();
  const refuse = (...own: Fault[]): ImportAnswer => {
    faults.add(own);
    return { state: "faulty", faults: faults.listed, count: faults.count };
  };
  const garden = findGarden(database);
  if (garden)
    return refuse({
      place: "file",
      found: `the garden ${garden.name}`,
      wanted: "a data folder without a garden",
    });
  const sources = unpackFiles(
    files,
    faults,
    (name) => packageNames.has(name) || /^pictures\/[^/]+$/.test(name),
  );
  const byName = new Map(sources.map((file) => [file.name, file]));
  if (faults.count > 0) return refuse();
  if (!byName.has("garden.csv"))
    return refuse({ place: "file", found: "no garden.csv", wanted: "the zip of a whole garden" });
  const rowsOf = new Map<string, PackageRow[]>();
  for (const table of gardenTables) {
    const file = byName.get(`${table.name}.csv`);
    if (file) rowsOf.set(table.name, readPackageTable(table, file, faults));
    if (steps.isStopped()) throw new ImportStopped();
  }
  refuseStrangers(gardenTables, rowsOf, faults);
  if (faults.count === 0) faults.add(factFaults(rowsOf));
  const gardens = rowsOf.get("garden") ?? [];
  if (gardens.length !== 1 && faults.count === 0)
    return refuse({ place: "garden.csv:2:1", found: `${gardens.length} gardens`, wanted: "one garden" });
  if (faults.count > 0) return refuse();

  const rows = [...rowsOf.values()].reduce((sum, table) => sum + table.length, 0);
  const trials = rowsOf.get("trials")?.length ?? 0;
  const answer: ImportAnswer = {
    state: isWriting ? "done" : "ready",
    rows,
    added: rows,
    already: 0,
    said: [
      `The garden ${String(gardens[0].values.name)} with ${trials} ${trials === 1 ? "trial" : "trials"}.`,
    ],
    trialId: null,
    replies: [],
  };
  const [{ name }] = files;
  try {
    inOneAct(database, () => {
      store(house, rowsOf, { id: house.newId(), name, hash: contentHash(files), rows }, steps);
      if (!isWriting) throw new OnlyTried();
    });
  } catch (fault) {
    if (fault instanceof OnlyTried) return answer;
    const broken = brokenRule(fault);
    if (broken === null) throw fault;
    return refuse({ place: `${name}:1:1`, found: quoteFound(broken), wanted: "tables that fit together" });
  }
  for (const file of sources) {
    const sha256 = pictureFile.exec(file.name)?.[1];
    if (sha256) keepPicture(house, sha256, wholeBytes(file));
  }
  return answer;
}
