import { inOneAct } from "@/db/open";
import { addBed } from "@/db/queries/add-bed";
import { addTrial, type NewTrial } from "@/db/queries/add-trial";
import { addVariety } from "@/db/queries/add-variety";
import { findGarden } from "@/db/queries/find-garden";
import { findTrial } from "@/db/queries/find-trial";
import { listBeds } from "@/db/queries/list-beds";
import { listVarieties } from "@/db/queries/list-varieties";
import { putStand } from "@/db/queries/put-stand";
import { setPacketClaim } from "@/db/queries/set-packet-claim";
import { layOutTrial } from "@/lib/design/lay-out-trial";
import type { Day } from "@/lib/words/day";
import { type Outcome, refusal, success } from "@/lib/words/fault";
import { type TrialPlan, trialPlanSchema } from "@/lib/words/trial-plan";
import { gardenMisfits } from "./garden-misfits";
import type { House } from "./house";
import { comparedCompanions } from "./level-words";
import { coverNamed, cropNamed } from "./named-things";
import { planLayout } from "./plan-layout";
import { planMisfits } from "./plan-misfits";
import { readForm } from "./read-form";
import { refoldCohort } from "./refold-cohort";
import { sameName } from "./same-name";

/** The plan's beds with their ids; a bed that is new has one made for it and is not stored yet. */
function namedBeds(house: House, plan: TrialPlan) {
  const beds = listBeds(house.database);
  return plan.beds.map((wanted) => {
    const known = beds.find((row) => sameName(row.name, wanted.name));
    const potMm = known ? (known.potMm ?? undefined) : wanted.potMm;
    return { id: known?.id ?? house.newId(), isNew: known === undefined, ...wanted, potMm };
  });
}

function addNewBeds(house: House, gardenId: string, beds: ReturnType<typeof namedBeds>): void {
  const last = Math.max(0, ...listBeds(house.database).map((bed) => bed.walkingOrder));
  beds
    .filter((bed) => bed.isNew)
    .forEach(({ isNew: _, takenUp: __, ...bed }, index) => {
      const walkingOrder = last + 1 + index;
      const setting = bed.potMm === undefined ? "open ground" : "container";
      addBed(house.database, { gardenId, ...bed, setting, walkingOrder });
    });
}

/** What main plots were dealt, as it is stored; none but in a split plot. */
function mainLevels(house: House, plan: TrialPlan, trialId: string, ids: string[]): NewTrial["mainLevels"] {
  const { mainPlots } = plan;
  if (!mainPlots) return [];
  const own = { coverId: null, fromOn: null, untilOn: null, sownOn: null, companion: null };
  if (mainPlots.factor === "sowing")
    return mainPlots.levels.map(({ sownOn }, index) => ({
      ...own,
      id: ids[index],
      trialId,
      position: index + 1,
      factor: "sowing",
      sownOn: sownOn as Day,
    }));
  if (mainPlots.factor === "companion")
    return mainPlots.levels.map(({ companion }, index) => ({
      ...own,
      id: ids[index],
      trialId,
      position: index + 1,
      factor: "companion",
      companion: companion?.name ?? null,
    }));
  return mainPlots.levels.map(({ cover, fromOn, untilOn }, index) => ({
    ...own,
    id: ids[index],
    trialId,
    position: index + 1,
    factor: "cover",
    coverId: cover ? coverNamed(house, cover) : null,
    fromOn: (cover ? (fromOn ?? plan.plantedOn) : null) as Day | null,
    untilOn: (cover ? untilOn : null) as Day | null,
  }));
}

/** Every day on which some of each variety is sown: the dates that main plots are dealt, or the one. */
function sowingDays(plan: TrialPlan): Day[] {
  const days = plan.mainPlots?.factor === "sowing" ? plan.mainPlots.levels.map((level) => level.sownOn) : [];
  return (days.length > 0 ? days : [plan.sownOn]) as Day[];
}

function varietyIds(house: House, ofCropId: string, plan: TrialPlan): string[] {
  const varieties = listVarieties(house.database).filter((row) => row.cropId === ofCropId);
  return plan.entries.map(({ variety: name, packetClaim }) => {
    const claim = packetClaim || null;
    const known = varieties.find((row) => sameName(row.name, name));
    if (!known) {
      const id = house.newId();
      addVariety(house.database, { id, cropId: ofCropId, name, packetClaim: claim });
      return id;
    }
    if (claim !== null && claim !== known.packetClaim) setPacketClaim(house.database, known.id, claim);
    return known.id;
  });
}

/** The trial that was made of this plan when it was sent before; null when its id is new. */
function madeBefore(house: House, plan: TrialPlan): Outcome<{ trialId: string }> | null {
  const made = plan.id === undefined ? null : findTrial(house.database, plan.id);
  if (!made) return null;
  const isSame =
    made.question === plan.question &&
    made.seed === plan.seed &&
    made.blocks === plan.blocks &&
    made.plantsPerPlot === plan.plantsPerPlot &&
    made.plantedOn === plan.plantedOn;
  if (isSame) return success({ trialId: made.id });
  const found = `this plan was made into the trial “${made.question}” already`;
  return refusal([{ place: "id", found, wanted: "a plan that is started afresh" }]);
}

/**
 * Makes a trial of a plan: checks it, deals the plots from its seed, and stores trial, layout, rule and whatever beds,
 * covers, crop and varieties are new, in one act. Refused with every fault by its field; nothing is stored then.
 */
export function createTrial(house: House, input: unknown): Outcome<{ trialId: string }> {
  const form = readForm(trialPlanSchema, input);
  if (!form.ok) return form;
  const plan = form.value;
  const { database } = house;
  return inOneAct(database, () => {
    const garden = findGarden(database);
    if (!garden) return refusal([{ place: "garden", found: "nothing", wanted: "a garden, made first" }]);
    const before = madeBefore(house, plan);
    if (before) return before;
    const misfits = [...planMisfits(plan), ...gardenMisfits(house, plan)];
    if (misfits.length > 0) return refusal(misfits);

    const trialId = plan.id ?? house.newId();
    const entryIds = plan.entries.map(() => house.newId());
    const beds = namedBeds(house, plan);
    const levelIds = (plan.mainPlots?.levels ?? []).map(() => house.newId());
    const layout = layOutTrial(planLayout(plan, { entries: entryIds, levels: levelIds, beds }));
    if (!layout.ok) return layout;

    const plantedOn = plan.plantedOn as Day;
    const sownOn = plan.sownOn as Day;
    addNewBeds(house, garden.id, beds);
    const covers = plan.covers.map((cover) => coverNamed(house, cover));
    const ofCropId = cropNamed(house, plan.crop);
    const varieties = varietyIds(house, ofCropId, plan);
    const plots = layout.value.plots.map(({ level, ...plot }) => ({
      ...plot,
      id: house.newId(),
      trialId,
      mainLevelId: level,
    }));
    const cohorts = plots.map((plot) => ({
      id: `${plot.id}/${plantedOn}`,
      plotId: plot.id,
      setOutOn: plantedOn,
      plants: plot.plants,
    }));
    addTrial(database, {
      trial: {
        id: trialId,
        question: plan.question,
        purpose: plan.purpose,
        cropId: ofCropId,
        design: plan.design,
        seed: plan.seed,
        blocks: plan.blocks,
        plantsPerPlot: plan.plantsPerPlot,
        betweenPlantsMm: plan.betweenPlantsMm,
        betweenRowsMm: plan.betweenRowsMm,
        sownOn,
        plantedOn,
        decidingAssessment: plan.decidingAssessment,
        pickingRule: plan.pickingRule,
        clearBy: plan.clearBy as Day | null,
        fallbackOn: plan.fallbackOn as Day | null,
        madeAt: house.now(),
        plotsPerBlock: plan.plotsPerBlock ?? null,
        gradient: plan.gradient ?? null,
        guardRows: plan.guardRows ?? null,
        pathSide: plan.pathSide ?? null,
      },
      takenUp: beds.flatMap((bed) => (bed.takenUp ?? []).map((row) => ({ trialId, bedId: bed.id, ...row }))),
      mainLevels: mainLevels(house, plan, trialId, levelIds),
      companions: [...(plan.companions ?? []), ...comparedCompanions(plan)].map((row) => ({
        trialId,
        ...row,
        sownOn: row.sownOn as Day,
      })),
      beds: beds.map((bed, index) => ({ trialId, bedId: bed.id, position: index + 1 })),
      assessments: plan.assessments.map(({ name, dueOn }) => ({ trialId, name, dueOn: dueOn as Day })),
      coverPlacings: plan.covers.flatMap(({ fromOn, untilOn }, index) =>
        beds.map((bed) => ({
          id: house.newId(),
          coverId: covers[index],
          bedId: bed.id,
          trialId,
          layer: index + 1,
          fromOn: fromOn as Day,
          untilOn: untilOn as Day | null,
        })),
      ),
      entries: plan.entries.map(({ role }, index) => ({
        id: entryIds[index],
        trialId,
        varietyId: varieties[index],
        role,
        position: index + 1,
      })),
      sowings: sowingDays(plan).flatMap((day) =>
        plan.entries.map((_, index) => ({
          id: house.newId(),
          varietyId: varieties[index],
          trialId,
          entryId: entryIds[index],
          sownOn: day,
        })),
      ),
      rule: { trialId, version: 1, ...plan.rule, reason: null, setAt: house.now() },
      plots,
      cohorts,
    });
    for (const cohort of cohorts) putStand(database, refoldCohort(database, cohort.id));
    return success({ trialId });
  });
}
