import { createHash } from "node:crypto";
import type { Database } from "@/db/open";
import { findGarden } from "@/db/queries/find-garden";
import { findLastFact } from "@/db/queries/find-last-fact";
import { listAssessments } from "@/db/queries/list-assessments";
import { listBedFacts } from "@/db/queries/list-bed-facts";
import { listBeds } from "@/db/queries/list-beds";
import { listCauses } from "@/db/queries/list-causes";
import { listCoversOverBeds } from "@/db/queries/list-covers-over-beds";
import { listEntries } from "@/db/queries/list-entries";
import { listFactsOfTrial } from "@/db/queries/list-facts-of-trial";
import { listPlots } from "@/db/queries/list-plots";
import { listRules } from "@/db/queries/list-rules";
import { listTrials } from "@/db/queries/list-trials";
import { contractVersion } from "@/lib/sync/contract";
import type { FieldPack, FieldTrial } from "@/lib/sync/field-pack";
import { addDays, type Day } from "@/lib/words/day";
import type { HarvestPart, Observation } from "@/lib/words/observation";
import { factOfRow } from "./fact-of-row";
import type { House } from "./house";
import { todayAt } from "./today-at";
import { trialState } from "./trial-state";
import { whileUnchanged } from "./while-unchanged";

/** The parts picked so far, the one picked most often first. */
function partsPicked(facts: Observation[]): HarvestPart[] {
  const times = new Map<HarvestPart, number>();
  for (const { kind, part } of facts) {
    if (kind === "harvest" && part !== null) times.set(part, (times.get(part) ?? 0) + 1);
  }
  return [...times].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1)).map(([part]) => part);
}

/** The first of a month, three to four months ago: what was said of a bed before it is history. */
function bedFactsFrom(today: Day): Day {
  return `${addDays(today, -92).slice(0, 7)}-01` as Day;
}

interface TrialFacts {
  last: number;
  facts: Observation[];
  parts: HarvestPart[];
}

/** Of running trials; read again once a fact came in that says anything of the trial. */
const keptFacts = new WeakMap<Database, Map<string, TrialFacts>>();

function factsOf(database: Database, trialId: string, kept: Map<string, TrialFacts>): TrialFacts {
  const last = findLastFact(database, trialId);
  const known = kept.get(trialId);
  if (known?.last === last) return known;
  const facts = listFactsOfTrial(database, trialId).map(factOfRow);
  const read = { last, facts, parts: partsPicked(facts) };
  kept.set(trialId, read);
  return read;
}

/**
 * Everything that a phone needs to walk and to weigh without a signal. A phone of the first contract can draw only beds
 * with plots of running trials, so it is given no others. Kept until anything in the file changes, so it is not to be
 * changed by whoever is given it.
 */
export function fieldPack(
  house: House,
  contract: number = contractVersion,
  person: FieldPack["person"] = null,
): FieldPack {
  const today = todayAt(house);
  return whileUnchanged(house, ["field pack", today, contract > 1, person], () =>
    packedNow(house, today, contract, person),
  );
}

function packedNow(house: House, today: Day, contract: number, person: FieldPack["person"]): FieldPack {
  const { database } = house;
  const kept = keptFacts.get(database) ?? new Map<string, TrialFacts>();
  keptFacts.set(database, kept);
  const garden = findGarden(database);
  const bedFactsSince = bedFactsFrom(today);
  const covers = listCoversOverBeds(database, today);
  const running = listTrials(database)
    .filter((trial) => trialState(trial, today) === "running")
    .map((trial) => {
      const varieties = new Map(listEntries(database, trial.id).map((entry) => [entry.id, entry.variety]));
      const { facts, parts } = factsOf(database, trial.id, kept);
      const plots = listPlots(database, trial.id).map((plot) => ({
        bedId: plot.bedId,
        field: {
          id: plot.id,
          trialId: trial.id,
          code: plot.code,
          variety: varieties.get(plot.entryId) ?? "",
          plants: plot.plants,
          plantRows: plot.plantRows,
          xMm: plot.xMm,
          yMm: plot.yMm,
          widthMm: plot.widthMm,
          lengthMm: plot.lengthMm,
          plantedOn: trial.plantedOn,
        },
      }));
      const line: FieldTrial = {
        id: trial.id,
        question: trial.question,
        crop: trial.crop,
        plantedOn: trial.plantedOn,
        clearBy: trial.clearBy,
        assessments: listAssessments(database, trial.id).map(({ name, dueOn }) => ({ name, dueOn })),
        traits:
          listRules(database, trial.id)
            .at(-1)
            ?.qualities.map((quality) => quality.trait) ?? [],
        parts,
      };
      return { line, plots, facts };
    });
  // A trial that runs no longer is asked for no more.
  for (const trialId of kept.keys())
    if (running.every(({ line }) => line.id !== trialId)) kept.delete(trialId);
  const pack = {
    gardenName: garden?.name ?? "",
    person: person && { name: person.name, role: person.role },
    timeZone: garden?.timeZone ?? "UTC",
    beds: listBeds(database)
      .map((bed) => ({
        id: bed.id,
        name: bed.name,
        widthMm: bed.widthMm,
        lengthMm: bed.lengthMm,
        covers: covers.filter((row) => row.bedId === bed.id).map((row) => row.name),
        plots: running.flatMap((trial) =>
          trial.plots.filter((plot) => plot.bedId === bed.id).map((plot) => plot.field),
        ),
      }))
      .filter((bed) => contract > 1 || bed.plots.length > 0),
    trials: running.map((trial) => trial.line),
    facts: running.flatMap((trial) => trial.facts),
    bedFacts: listBedFacts(database, { since: bedFactsSince }),
    bedFactsSince,
    causes: listCauses(database)
      .filter((cause) => cause.takes === "loss")
      .map(({ code, words }) => ({ code, words })),
  };
  const version = createHash("sha256").update(JSON.stringify(pack)).digest("hex").slice(0, 32);
  return { version, today, ...pack };
}
