import type { Database } from "@/db/open";
import { findFirstFact } from "@/db/queries/find-first-fact";
import { findTrial } from "@/db/queries/find-trial";
import { listAmendments } from "@/db/queries/list-amendments";
import { listAssessments } from "@/db/queries/list-assessments";
import { listCoverPlacings } from "@/db/queries/list-cover-placings";
import { listEntries } from "@/db/queries/list-entries";
import { listFactsOfTrial } from "@/db/queries/list-facts-of-trial";
import { listMainLevels } from "@/db/queries/list-main-levels";
import { listPlots } from "@/db/queries/list-plots";
import { listRules } from "@/db/queries/list-rules";
import { changeMark } from "@/db/queries/list-trial-stamps";
import type { PlotAmendment, TrialRecord } from "@/lib/analysis/trial-record";
import type { EntryRole } from "@/lib/words/trial";
import { factOfRow } from "./fact-of-row";
import type { House } from "./house";
import { partTreatments } from "./part-treatments";

const squareMmInM2 = 1_000_000;

/** A page asks for a record more than once, and the next page again; each has some thousand facts. */
const most = 12;
const keptOf = new WeakMap<Database, { mark: string; records: Map<string, TrialRecord> }>();

/**
 * Everything that the analysis may know of a trial. Null when there is no such trial. Kept until anything in the file
 * changes, so it is not to be changed by whoever is given it.
 */
export function trialRecord(house: House, trialId: string): TrialRecord | null {
  const { database } = house;
  const mark = changeMark(database);
  let kept = keptOf.get(database);
  if (kept?.mark !== mark) {
    kept = { mark, records: new Map() };
    keptOf.set(database, kept);
  }
  const record = kept.records.get(trialId) ?? readRecord(house, trialId);
  if (!record) return null;
  // Asked for again: the last to be let go.
  kept.records.delete(trialId);
  kept.records.set(trialId, record);
  if (kept.records.size > most) kept.records.delete(kept.records.keys().next().value as string);
  return record;
}

function readRecord(house: House, trialId: string): TrialRecord | null {
  const { database } = house;
  const trial = findTrial(database, trialId);
  if (!trial) return null;
  const entries = listEntries(database, trialId);
  const byRole = (role: EntryRole) => entries.find((entry) => entry.role === role)?.variety ?? null;
  const varieties = new Map(entries.map((entry) => [entry.id, entry.variety]));
  const covers = [...new Set(listCoverPlacings(database, trialId).map((cover) => cover.name))];
  const levels = new Map(listMainLevels(database, trialId).map((level) => [level.id, level]));
  const rules = listRules(database, trialId).map(({ trialId: _, ...rule }) => rule);
  const first = findFirstFact(database, trialId);
  return {
    design: trial.design,
    seed: trial.seed,
    varieties: entries.map((entry) => entry.variety),
    check: byRole("check"),
    tenderCheck: byRole("tender-check"),
    plots: listPlots(database, trialId).map((plot) => {
      const level = levels.get(plot.mainLevelId ?? "");
      const over = [...covers, level?.coverName ?? null].filter((cover) => cover !== null);
      return {
        id: plot.id,
        code: plot.code,
        variety: varieties.get(plot.entryId) ?? "",
        replicate: plot.replicate === null ? null : String(plot.replicate),
        block: plot.block === null ? null : String(plot.block),
        mainPlot: plot.mainPlot,
        row: plot.row,
        column: plot.column,
        cover: over.join(", ") || null,
        sownOn: level?.sownOn ?? trial.sownOn,
        companion: level?.companion ?? null,
        plants: plot.plants,
        plantedOn: trial.plantedOn,
        areaM2: (plot.widthMm * plot.lengthMm) / squareMmInM2,
      };
    }),
    facts: listFactsOfTrial(database, trialId).map(factOfRow),
    amendments: listAmendments(database, trialId).flatMap(
      ({ plotId, kind, fromOn, reason, plantedVariety }): PlotAmendment[] => {
        if (plotId === null || kind === "closed") return [];
        if (kind !== "another variety") return [{ plotId, kind, fromOn, reason }];
        // It was not dealt there, so it counts for neither variety.
        return [
          { plotId, kind: "excluded", fromOn, reason: `${plantedVariety} was planted there; ${reason}` },
        ];
      },
    ),
    assessments: listAssessments(database, trialId).map(({ name, dueOn }) => ({ name, dueOn })),
    decidingAssessment: trial.decidingAssessment,
    rule: rules.at(-1) ?? null,
    ruleChangedAfterData: first !== null && rules.some((rule) => rule.setAt > first.recordedAt),
    clearBy: trial.clearBy,
    treatedInPart: partTreatments({ database }, trial),
  };
}
