import { v5 } from "uuid";
import { inOneAct } from "@/db/open";
import { addImportedFile } from "@/db/queries/add-imported-file";
import { findGarden } from "@/db/queries/find-garden";
import { findTrial } from "@/db/queries/find-trial";
import { listEntries } from "@/db/queries/list-entries";
import { listPlots } from "@/db/queries/list-plots";
import type { FileManner } from "@/lib/records/cell-reader";
import { exactRows } from "@/lib/records/exact-rows";
import { parseFileDay } from "@/lib/records/file-day";
import type { SourceFile } from "@/lib/records/open-table";
import { planOfPlots } from "@/lib/records/plan-of-plots";
import { observationColumns } from "@/lib/records/read-observations";
import { readTrialFolder, type TrialFolder, type TrialPlanTold } from "@/lib/records/read-trial-folder";
import type { Day } from "@/lib/words/day";
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
import { contentHash, type TableImport } from "./import-table";
import { importWeather } from "./import-weather";
import { storeToldTrial } from "./store-told-trial";
import { unpackFiles } from "./unpack-files";

/** Undoes the act: in trying, and where faults were found. */
class Undone extends Error {
  constructor(readonly answer: ImportAnswer) {
    super();
  }
}

const trialsOfFolders = "7d0d8a0a-94f1-5a7a-8b0d-3a5a1d3f6c03";
const weatherColumns = { required: ["day"], optional: ["min_c", "max_c", "place"] };

const isTable = (name: string) => /\.(csv|tsv|txt|json)$/i.test(name);

/** Whether the trial that is here is the one that the folder tells. */
function refuseOther(house: House, trialId: string, folder: TrialFolder, faults: FaultList): void {
  const varieties = new Map(listEntries(house.database, trialId).map((entry) => [entry.id, entry.variety]));
  const kept = new Map(
    listPlots(house.database, trialId).map((plot) => [plot.code, varieties.get(plot.entryId) ?? ""]),
  );
  for (const { line, plot, variety } of folder.plots)
    if (kept.get(plot) !== variety)
      faults.add([
        {
          place: `${folder.plotsFile}:${line}:plot`,
          found: `${plot} with ${variety}`,
          wanted: `a plot of the trial that is here already under this id, “${findTrial(house.database, trialId)?.question}”`,
        },
      ]);
}

function lastSeen(file: SourceFile | null, manner: FileManner): Day | null {
  const table = file && exactRows(file, observationColumns);
  if (!table?.ok) return null;
  let last: Day | null = null;
  for (const row of table.value.rows(faultList())) {
    const day = parseFileDay(row.value("seen_on"), "", manner.dayOrder);
    if (day.ok && (last === null || day.value > last)) last = day.value;
  }
  return last;
}

interface Reading {
  house: House;
  trialId: string;
  occasion: ImportOccasion;
  faults: FaultList;
  steps: ImportSteps;
}

function readInto(
  file: SourceFile,
  columns: { required: readonly string[]; optional: readonly string[] },
  { faults, steps }: Reading,
  make: (manner: FileManner) => TableImport,
): { into: TableImport; unknown: string[] } | null {
  const table = exactRows(file, columns);
  if (!table.ok) {
    faults.add(table.faults);
    return null;
  }
  const into = make({ decimalComma: table.value.decimalComma, dayOrder: null });
  let count = 0;
  for (const row of table.value.rows(faults)) {
    count += 1;
    if (count % 256 === 0 && steps.isStopped()) throw new ImportStopped();
    into.take(row, faults);
  }
  into.finish(faults);
  return { into, unknown: table.value.unknownColumns.map((column) => `${file.name}: ${column}`) };
}

/** The observations, read once for what the file's own marks mean and once more to be written. */
function takeObservations(file: SourceFile, reading: Reading) {
  const { house, trialId, occasion, faults } = reading;
  let marks: ReadonlyMap<string, string> = new Map();
  const read = (before: ReadonlyMap<string, string> | null) =>
    readInto(file, observationColumns, reading, (manner) => {
      const into = importObservations(house, { trialId, file: file.name, manner, occasion, marks: before });
      marks = into.marks;
      return into;
    });
  const tried = read(null);
  return faults.count > 0 || !tried ? null : read(marks);
}

function sayTrial(plan: TrialPlanTold | null, folder: TrialFolder, unknown: string[]): string[] {
  const { plots } = folder;
  const own =
    plan === null
      ? ["The trial is here already: its plan stays as it is here, and observations are added."]
      : [`A trial of ${plan.crop} in ${plots.length} plots: ${plan.question}`];
  const bare =
    plan !== null && folder.plan === null
      ? [
          "The files tell no decision rule, so nothing is proposed, and no distance between plants, so it is reckoned from the ground each had.",
        ]
      : [];
  const aside = [...folder.unknown, ...unknown];
  return [
    ...own,
    ...bare,
    ...(aside.length > 0 ? [`Not known to a trial’s tables: ${aside.join(", ")}.`] : []),
  ];
}

/**
 * Tries a trial's folder, or takes it in: the zip, or its tables chosen together. The trial is stored as it was dealt, with
 * its observations and its weather, in one act or not at all; trying does the same and undoes it. A trial that is here
 * under the folder's id only gets the observations that are new, so that the same folder adds nothing again.
 */
export function importTrial(
  house: House,
  asked: ImportAsked,
  files: readonly SourceFile[],
  { isWriting, steps }: { isWriting: boolean; steps: ImportSteps },
): ImportAnswer {
  const { database } = house;
  const faults = faultList();
  const listed = (): ImportAnswer => ({ state: "faulty", faults: faults.listed, count: faults.count });
  const refuse = (fault: Fault) => {
    faults.add([fault]);
    return listed();
  };
  const garden = findGarden(database);
  if (!garden) return refuse({ place: "garden", found: "nothing", wanted: "a garden, made first" });
  const folder = readTrialFolder(unpackFiles(files, faults, isTable), faults);
  if (!folder || faults.count > 0) return listed();
  const manner = { decimalComma: folder.decimalComma, dayOrder: null };
  const occasion = { id: house.newId(), at: house.now(), contentHash: contentHash(files) };
  const known = folder.plan?.id ?? folder.description?.id ?? v5(nameOfPlots(folder), trialsOfFolders);
  const isHere = findTrial(database, known) !== null;
  const plan = isHere
    ? null
    : (folder.plan ?? planOfPlots(folder, asked.trial, lastSeen(folder.observations, manner), faults));
  if (isHere) refuseOther(house, known, folder, faults);
  if (faults.count > 0 || (plan === null && !isHere)) return listed();

  try {
    return inOneAct(database, () => {
      const reading = { house, trialId: known, occasion, faults, steps };
      if (plan) storeToldTrial(house, plan, folder.plots, known);
      const facts = folder.observations && takeObservations(folder.observations, reading);
      const weather =
        folder.weather &&
        readInto(folder.weather, weatherColumns, reading, (own) =>
          importWeather(house, {
            file: folder.weather?.name ?? "",
            manner: own,
            occasion: { ...occasion, id: house.newId() },
            isWriting: true,
          }),
        );
      if (faults.count > 0) throw new Undone(listed());
      const parts = [facts, weather].flatMap((part) => (part ? [part] : []));
      const sum = (of: "rows" | "added" | "already") =>
        parts.reduce((total, { into }) => total + into.tally[of], 0);
      const plots = folder.plots.length;
      const tally = {
        rows: sum("rows") + plots,
        added: sum("added") + (plan ? plots : 0),
        already: sum("already") + (plan ? 0 : plots),
      };
      if (tally.added > 0)
        addImportedFile(database, {
          id: occasion.id,
          gardenId: garden.id,
          kind: "trial",
          trialId: known,
          name: files[0].name,
          contentHash: occasion.contentHash,
          rowCount: tally.rows,
          added: tally.added,
          importedAt: occasion.at,
        });
      const answer: ImportAnswer = {
        state: isWriting ? "done" : "ready",
        ...tally,
        said: [
          ...sayTrial(
            plan,
            folder,
            parts.flatMap(({ unknown }) => unknown),
          ),
          ...parts.flatMap(({ into }) => into.said()),
        ],
        trialId: isWriting ? known : null,
        replies: [],
      };
      if (!isWriting) throw new Undone(answer);
      return answer;
    });
  } catch (fault) {
    if (fault instanceof Undone) return fault.answer;
    const broken = brokenRule(fault);
    if (broken === null) throw fault;
    return refuse({
      place: `${files[0].name}:1:1`,
      found: quoteFound(broken),
      wanted: "tables that fit together",
    });
  }
}

/** What names a trial whose files have no id: its plots as they are told. */
function nameOfPlots({ plots }: TrialFolder): string {
  return JSON.stringify(plots.map(({ line: _, notes: __, ...plot }) => plot));
}
