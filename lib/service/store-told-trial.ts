import { v5 } from "uuid";
import { addBed } from "@/db/queries/add-bed";
import { addTrial } from "@/db/queries/add-trial";
import { appendAmendment } from "@/db/queries/append-amendment";
import { appendRule } from "@/db/queries/append-rule";
import { appendVerdict } from "@/db/queries/append-verdict";
import { findGarden } from "@/db/queries/find-garden";
import { listBeds } from "@/db/queries/list-beds";
import { putStand } from "@/db/queries/put-stand";
import type { AmendmentKind } from "@/db/schema/trial";
import type { PlotRow } from "@/lib/records/read-plots";
import type { TrialPlanTold } from "@/lib/records/read-trial-folder";
import type { House } from "./house";
import { coverNamed, cropNamed, varietyNamed } from "./named-things";
import { refoldCohort } from "./refold-cohort";
import { sameName } from "./same-name";
import type { Use, VerdictFigures } from "./trial-verdicts";

/** Under it lie the ids of what came in a folder without any. */
const rowsOfFolders = "4b8f0f4e-6d53-5c0a-8e57-2f9d2a6b1e02";

const noFigures: VerdictFigures = {
  asOf: null,
  ruleVersion: null,
  survival: null,
  yield: null,
  proposal: null,
};

/** Blocks and replicates as numbers: their own, or else counted as they come. */
function numbered(values: readonly (string | null)[]): (number | null)[] {
  const names = [...new Set(values.filter((value) => value !== null))];
  const areNumbers = names.every((name) => /^[1-9]\d{0,5}$/.test(name));
  return values.map((value) =>
    value === null ? null : areNumbers ? Number(value) : names.indexOf(value) + 1,
  );
}

/**
 * The ids of the beds, by name. One that the garden has under the name and in the same size is that bed; one of another
 * size is another bed, and gets a number behind its name.
 */
function placeBeds(house: House, plan: TrialPlanTold): Map<string, string> {
  const { database } = house;
  const gardenId = findGarden(database)?.id ?? "";
  const ids = new Map<string, string>();
  for (const { bed, widthMm, lengthMm, potMm } of plan.beds) {
    const beds = listBeds(database);
    const known = beds.find(
      (row) =>
        sameName(row.name, bed) &&
        row.widthMm === widthMm &&
        row.lengthMm === lengthMm &&
        row.potMm === potMm,
    );
    if (known) {
      ids.set(bed, known.id);
      continue;
    }
    const taken = (name: string) => beds.some((row) => sameName(row.name, name));
    let name = bed;
    for (let count = 2; taken(name); count += 1) name = `${bed.slice(0, 72)} (${count})`;
    const id = house.newId();
    const walkingOrder = Math.max(0, ...beds.map((row) => row.walkingOrder)) + 1;
    const setting = potMm === null ? "open ground" : "container";
    addBed(database, { id, gardenId, name, widthMm, lengthMm, potMm, setting, walkingOrder });
    ids.set(bed, id);
  }
  return ids;
}

function storeAfterwards(
  house: House,
  plan: TrialPlanTold,
  trialId: string,
  ids: { plots: ReadonlyMap<string, string>; entries: ReadonlyMap<string, string> },
): void {
  const { database } = house;
  for (const rule of plan.rules.slice(1)) appendRule(database, { trialId, ...rule });
  for (const { plot, kind, by, ...amendment } of plan.amendments)
    appendAmendment(database, {
      id: v5(JSON.stringify([trialId, plot, kind, amendment]), rowsOfFolders),
      trialId,
      plotId: plot === null ? null : (ids.plots.get(plot) ?? null),
      kind: kind as AmendmentKind,
      by: by ?? "",
      ...amendment,
    });
  for (const { variety, purpose, by, ...verdict } of plan.verdicts) {
    const use: Use = {
      crop: plan.crop,
      variety,
      covers: plan.covers.map((cover) => cover.cover),
      sownOn: plan.sownOn,
      plantedOn: plan.plantedOn,
      purpose: purpose ?? "",
    };
    appendVerdict(database, {
      id: v5(JSON.stringify([trialId, variety, verdict]), rowsOfFolders),
      trialId,
      entryId: ids.entries.get(variety) ?? "",
      use,
      figures: noFigures,
      by: by ?? "",
      ...verdict,
    });
  }
}

/**
 * Stores a trial as a folder tells it: as it was planned and dealt, nothing dealt anew, with its rules, amendments and
 * verdicts. To be called within one act.
 */
export function storeToldTrial(
  house: House,
  plan: TrialPlanTold,
  plots: readonly PlotRow[],
  trialId: string,
): void {
  const { database } = house;
  const cropId = cropNamed(house, plan.crop);
  const beds = placeBeds(house, plan);
  const entries = new Map(plan.entries.map(({ variety }) => [variety, house.newId()]));
  const varieties = new Map(
    plan.entries.map(({ variety, packetClaim }) => [
      variety,
      varietyNamed(house, cropId, { name: variety, packetClaim }),
    ]),
  );
  const levels = new Map(plan.levels.map(({ level }) => [level, house.newId()]));
  const plotIds = new Map(plots.map(({ plot }) => [plot, house.newId()]));
  const placeOf = new Map(plan.places.map((place) => [place.plot, place]));
  const blocks = numbered(plots.map((plot) => plot.block));
  const replicates = numbered(plots.map((plot) => plot.replicate));
  const isPlaced = plots.every((plot) => plot.row !== null && plot.column !== null);
  const coverIdOf = (name: string | null, kind: string | null) =>
    name === null ? null : coverNamed(house, { name, kind: kind ?? "cover" });
  const sowings = plan.levels.flatMap(({ sownOn }) => sownOn ?? []);
  const cohorts = plots.map(({ plot, plants }) => {
    const plotId = plotIds.get(plot) ?? "";
    return { id: `${plotId}/${plan.plantedOn}`, plotId, setOutOn: plan.plantedOn, plants: plants ?? 0 };
  });
  addTrial(database, {
    trial: {
      id: trialId,
      question: plan.question,
      purpose: plan.purpose ?? "",
      cropId,
      design: plan.design,
      seed: plan.seed,
      blocks: plan.blocks,
      plantsPerPlot: plan.plantsPerPlot,
      betweenPlantsMm: plan.betweenPlantsMm,
      betweenRowsMm: plan.betweenRowsMm,
      sownOn: plan.sownOn,
      plantedOn: plan.plantedOn,
      decidingAssessment: plan.decidingAssessment,
      pickingRule: plan.pickingRule ?? "",
      clearBy: plan.clearBy,
      fallbackOn: plan.fallbackOn,
      closedOn: plan.closedOn,
      plotsPerBlock: plan.plotsPerBlock,
      gradient: plan.gradient,
      guardRows: plan.guardRows,
      pathSide: plan.pathSide,
      madeAt: house.now(),
    },
    beds: plan.beds.map(({ bed }, index) => ({ trialId, bedId: beds.get(bed) ?? "", position: index + 1 })),
    takenUp: plan.takenUp.map(({ bed, ...row }) => ({ trialId, bedId: beds.get(bed) ?? "", ...row })),
    mainLevels: plan.levels.map(({ level, cover, kind, ...row }, index) => ({
      id: levels.get(level) ?? "",
      trialId,
      position: index + 1,
      coverId: coverIdOf(cover, kind),
      ...row,
    })),
    companions: plan.companions.map((row) => ({ trialId, ...row })),
    assessments: plan.assessments.map((row) => ({ trialId, ...row })),
    coverPlacings: plan.covers.flatMap(({ cover, kind, ...row }, index) =>
      plan.beds.map(({ bed }) => ({
        id: house.newId(),
        coverId: coverIdOf(cover, kind) ?? "",
        bedId: beds.get(bed) ?? "",
        trialId,
        layer: index + 1,
        ...row,
      })),
    ),
    entries: plan.entries.map(({ variety, role }, index) => ({
      id: entries.get(variety) ?? "",
      trialId,
      varietyId: varieties.get(variety) ?? "",
      role,
      position: index + 1,
    })),
    sowings: (sowings.length > 0 ? sowings : [plan.sownOn]).flatMap((sownOn) =>
      plan.entries.map(({ variety }) => ({
        id: house.newId(),
        varietyId: varieties.get(variety) ?? "",
        trialId,
        entryId: entries.get(variety) ?? "",
        sownOn,
      })),
    ),
    rule: { trialId, ...plan.rules[0] },
    plots: plots.map((plot, index) => {
      const place = placeOf.get(plot.plot);
      return {
        id: plotIds.get(plot.plot) ?? "",
        trialId,
        bedId: beds.get(place?.bed ?? "") ?? "",
        entryId: entries.get(plot.variety) ?? "",
        code: plot.plot,
        block: blocks[index],
        replicate: replicates[index],
        mainPlot: plot.mainPlot,
        row: isPlaced ? (plot.row ?? 1) : index + 1,
        column: isPlaced ? (plot.column ?? 1) : 1,
        xMm: place?.xMm ?? 0,
        yMm: place?.yMm ?? 0,
        widthMm: place?.widthMm ?? 1,
        lengthMm: place?.lengthMm ?? 1,
        plants: plot.plants ?? 0,
        plantRows: place?.plantRows ?? 1,
        mainLevelId: levels.get(place?.under ?? "") ?? null,
      };
    }),
    cohorts,
  });
  for (const cohort of cohorts) putStand(database, refoldCohort(database, cohort.id));
  storeAfterwards(house, plan, trialId, { plots: plotIds, entries });
}
