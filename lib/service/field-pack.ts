import { createHash } from "node:crypto";
import { findGarden } from "@/db/queries/find-garden";
import { listAssessments } from "@/db/queries/list-assessments";
import { listBeds } from "@/db/queries/list-beds";
import { listCauses } from "@/db/queries/list-causes";
import { listCoversOverBeds } from "@/db/queries/list-covers-over-beds";
import { listEntries } from "@/db/queries/list-entries";
import { listFactsOfTrial } from "@/db/queries/list-facts-of-trial";
import { listPlots } from "@/db/queries/list-plots";
import { listRules } from "@/db/queries/list-rules";
import { listTrials } from "@/db/queries/list-trials";
import type { FieldPack, FieldTrial } from "@/lib/sync/field-pack";
import type { HarvestPart, Observation } from "@/lib/words/observation";
import { factOfRow } from "./fact-of-row";
import type { House } from "./house";
import { todayAt } from "./today-at";
import { trialState } from "./trial-state";

/** The parts picked so far, the one picked most often first. */
function partsPicked(facts: Observation[]): HarvestPart[] {
  const times = new Map<HarvestPart, number>();
  for (const { kind, part } of facts) {
    if (kind === "harvest" && part !== null) times.set(part, (times.get(part) ?? 0) + 1);
  }
  return [...times].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1)).map(([part]) => part);
}

/** Everything that a phone needs to walk and to weigh without a signal: running trials only. */
export function fieldPack(house: House): FieldPack {
  const { database } = house;
  const today = todayAt(house);
  const garden = findGarden(database);
  const covers = listCoversOverBeds(database, today);
  const running = listTrials(database)
    .filter((trial) => trialState(trial, today) === "running")
    .map((trial) => {
      const varieties = new Map(listEntries(database, trial.id).map((entry) => [entry.id, entry.variety]));
      const facts = listFactsOfTrial(database, trial.id).map(factOfRow);
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
        parts: partsPicked(facts),
      };
      return { line, plots, facts };
    });
  const pack = {
    gardenName: garden?.name ?? "",
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
      .filter((bed) => bed.plots.length > 0),
    trials: running.map((trial) => trial.line),
    facts: running.flatMap((trial) => trial.facts),
    causes: listCauses(database)
      .filter((cause) => cause.takes === "loss")
      .map(({ code, words }) => ({ code, words })),
  };
  const version = createHash("sha256").update(JSON.stringify(pack)).digest("hex").slice(0, 32);
  return { version, today, ...pack };
}
