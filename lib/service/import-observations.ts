import { v5 } from "uuid";
import type { FactRow } from "@/db/queries/fact-rows";
import { findFact } from "@/db/queries/find-fact";
import { findTrial } from "@/db/queries/find-trial";
import { listPlots } from "@/db/queries/list-plots";
import type { FileManner } from "@/lib/records/cell-reader";
import { type ObservationRow, observationReader } from "@/lib/records/read-observations";
import type { TableRow } from "@/lib/records/read-table";
import { type Fault, quoteFound } from "@/lib/words/fault";
import { type Observation, observationMisfit } from "@/lib/words/observation";
import type { House } from "./house";
import type { ImportOccasion } from "./import-asked";
import type { TableImport } from "./import-table";
import { type KeptTogether, keepTogether } from "./keep-fact";

/** Under it lie the ids of facts that came without one. */
const factsOfFiles = "0d6f6a52-5a0e-5b7e-9a53-6f1f0c1b7c11";
const uuid = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i;
const longestNote = 10_000;

/** The device that a trial's imported facts come from: one for good, so that a later file's facts fold after an earlier's. */
export function importDevice(trialId: string): string {
  return v5(`device of ${trialId}`, factsOfFiles);
}

/** The first place in fold order of an import: counted from the second in which it began, so that later ones follow. */
export function firstSequence(occasion: ImportOccasion): number {
  return Math.floor(Date.parse(occasion.at) / 1000) * 1_000_000;
}

/** A note with what the columns without a field say. */
function wholeNote({ note, notes }: ObservationRow): string | null {
  const others = Object.entries(notes).map(([name, value]) => `${name}: ${value}`);
  return [...(note === null ? [] : [note]), ...others].join("; ") || null;
}

function sameText(one: string | null, other: string | null): boolean {
  return (one?.trim() || "") === (other?.trim() || "");
}

/** Whether what is kept under an id says what the row says; when and on which device it was recorded is no matter. */
function saysTheSame(kept: FactRow, fact: Observation, trialId: string): boolean {
  // A pick that was moved to another trial stands as withdrawn in the file of the one that it left.
  if (kept.trialId !== trialId) return fact.kind === "withdrawn" && kept.replaces === fact.replaces;
  return (
    kept.plotId === fact.plotId &&
    kept.kind === fact.kind &&
    kept.seenOn === fact.seenOn &&
    kept.amount === fact.amount &&
    kept.unit === fact.unit &&
    kept.part === fact.part &&
    kept.replaces === fact.replaces &&
    (kept.cohortOn ?? null) === fact.cohortOn &&
    sameText(kept.cause, fact.cause) &&
    sameText(kept.trait, fact.trait) &&
    sameText(kept.by, fact.by) &&
    sameText(kept.note, fact.note)
  );
}

/** Ids for rows: their own full ones, and else made of what they say, so that the same row has the same id again. */
function rowIds(trialId: string) {
  const times = new Map<string, number>();
  const ofMark = new Map<string, string>();
  return {
    ofMark,
    idFor(row: ObservationRow): string {
      if (row.id !== null && uuid.test(row.id)) return row.id.toLowerCase();
      const { line: _, notes, ...said } = row;
      const id = v5(JSON.stringify([trialId, Object.values(said), notes]), factsOfFiles);
      const before = times.get(id) ?? 0;
      times.set(id, before + 1);
      // Two rows that say the same are two facts: the second, third… of what they say.
      const own = before === 0 ? id : v5(`${id} ${before + 1}`, factsOfFiles);
      if (row.id !== null) ofMark.set(row.id, own);
      return own;
    },
  };
}

/**
 * Takes in a trial's observations row by row. Ids that hold within the file only are followed within it; what a row without
 * a full id says, and how often it was said before in the file, make its id, so that the same file adds nothing again.
 *
 * @param marks what the reading before found under the file's own marks; null in the first reading, which writes nothing
 */
export function importObservations(
  house: House,
  options: {
    trialId: string;
    file: string;
    manner: FileManner;
    occasion: ImportOccasion;
    marks: ReadonlyMap<string, string> | null;
  },
): TableImport & { marks: ReadonlyMap<string, string> } {
  const { database } = house;
  const { trialId, file, manner, occasion, marks } = options;
  const trial = findTrial(database, trialId);
  if (!trial) throw new Error(`importObservations requires a trial; got ${trialId}`);
  const plots = listPlots(database, trialId);
  const plotIds = new Map(plots.map((plot) => [plot.code, plot.id]));
  const reader = observationReader(
    plots.map((plot) => ({ plot: plot.code, plantedOn: trial.plantedOn })),
    (line, column) => `${file}:${line}:${column}`,
    manner,
  );
  const deviceId = importDevice(trialId);
  const sequence = firstSequence(occasion);
  const ids = rowIds(trialId);
  const keeping: KeptTogether | null = marks && keepTogether(house);
  const tally = { rows: 0, added: 0, already: 0 };

  function factOf(row: ObservationRow): Observation {
    const named = row.replaces;
    const replaces = named !== null && !uuid.test(named) ? (marks?.get(named) ?? null) : named;
    const isWeight = row.kind === "harvest" && row.unit === "g";
    return {
      id: ids.idFor(row),
      deviceId,
      deviceSequence: sequence + row.line,
      walkaboutId: null,
      plotId: plotIds.get(row.plot) ?? "",
      cohortOn: row.setOutOn === trial?.plantedOn ? null : row.setOutOn,
      kind: row.kind,
      cause: row.cause,
      trait: row.trait,
      part: row.part,
      amount: isWeight && row.amount !== null ? Math.round(row.amount) : row.amount,
      unit: row.unit,
      seenOn: row.seenOn,
      recordedAt: row.recordedAt ?? occasion.at,
      replaces: replaces?.toLowerCase() ?? null,
      by: row.by ?? "",
      note: wholeNote(row),
    };
  }

  function misfits(row: TableRow, fact: Observation): Fault[] {
    if ((fact.note?.length ?? 0) > longestNote)
      return [{ place: row.place("note"), found: "more", wanted: `at most ${longestNote} letters` }];
    const isUnresolved = marks === null && row.value("replaces") !== "" && fact.replaces === null;
    const misfit = isUnresolved ? null : observationMisfit(fact);
    if (!misfit) return [];
    const found = quoteFound(row.value(misfit.field));
    return [{ place: row.place(misfit.field), found, wanted: misfit.wanted }];
  }

  return {
    tally,
    marks: ids.ofMark,
    take(row, faults) {
      const own: Fault[] = [];
      const read = reader.read(row, own);
      tally.rows += 1;
      if (own.length > 0) return faults.add(own);
      const fact = factOf(read);
      const misfit = misfits(row, fact);
      if (misfit.length > 0) return faults.add(misfit);
      const kept = findFact(database, fact.id);
      // Ids made of what a row says tell by themselves that it is here; a correction's own is compared once all are known.
      if (kept && (marks !== null || read.replaces === null) && !saysTheSame(kept, fact, trialId)) {
        const wanted = "an id of its own: another fact is kept under this one";
        return faults.add([{ place: row.place("id"), found: quoteFound(fact.id), wanted }]);
      }
      tally[kept ? "already" : "added"] += 1;
      if (!kept) keeping?.keep(fact);
    },
    finish(faults) {
      const own: Fault[] = [];
      reader.finish(own);
      faults.add(own);
      keeping?.finish();
    },
    said: () => [],
  };
}
