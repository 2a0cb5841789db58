import * as z from "zod/mini";
import { findGarden } from "@/db/queries/find-garden";
import { listTrials } from "@/db/queries/list-trials";
import { designMisfits } from "@/lib/design/design-misfits";
import { fitBed } from "@/lib/design/fit-bed";
import { type DesignProposal, proposeDesign, usualPlotsPerBlock } from "@/lib/design/propose-design";
import { type PlanProposal, type PlanRequest, proposePlan } from "@/lib/design/propose-plan";
import type { Day } from "@/lib/words/day";
import { type Fault, type Outcome, refusal, success } from "@/lib/words/fault";
import type { Design } from "@/lib/words/trial";
import { type TrialPlan, trialPlanSchema } from "@/lib/words/trial-plan";
import { gardenMisfits } from "./garden-misfits";
import type { House } from "./house";
import { ownScatter } from "./own-scatter";
import { planMisfits } from "./plan-misfits";
import { readForm } from "./read-form";
import { sameName } from "./same-name";
import { type UsualDates, usualDates } from "./usual-dates";
import { usualSpacing } from "./usual-spacing";

const { shape } = trialPlanSchema;

/** What a plan begins with; spacing is asked for only when the grower has set it. */
const beginningSchema = z.object({
  question: shape.question,
  purpose: shape.purpose,
  crop: shape.crop,
  entries: shape.entries,
  beds: shape.beds,
  covers: shape.covers,
  sownOn: shape.sownOn,
  plantedOn: shape.plantedOn,
  betweenPlantsMm: z.optional(shape.betweenPlantsMm),
  betweenRowsMm: z.optional(shape.betweenRowsMm),
  mainPlots: shape.mainPlots,
  gradient: shape.gradient,
  guardRows: shape.guardRows,
  pathSide: shape.pathSide,
  companions: shape.companions,
  /** The most plants of one variety that there will be. */
  plantsToHand: z.optional(z.int().check(z.minimum(1))),
  /** The grower's own choice; proposed where nothing is said. */
  design: z.optional(shape.design),
  plotsPerBlock: shape.plotsPerBlock,
});

export interface TrialProposal extends UsualDates {
  betweenPlantsMm: number;
  betweenRowsMm: number;
  /** Where the spacing comes from, for reading. */
  spacingFrom: string;
  design: Design;
  /** Why this design, in a sentence. */
  why: string;
  /** Only where blocks are incomplete. */
  plotsPerBlock: number | null;
  /** What fits the beds, the one to be taken first; never empty. */
  plans: PlanProposal[];
  pickingRule: string;
  rule: TrialPlan["rule"];
}

const usualPicking =
  "Every plot on the same day, as soon as most are worth picking. Each plot is written down, also when there is nothing to pick.";

/** Floors to start from, to be moved to what is worth its ground here; nobody published them. */
const usualRule: TrialPlan["rule"] = { survivalFloor: 0.7, yieldFloor: 0.8, sureness: 0.8, qualities: [] };

function spacingFor(house: House, crop: string) {
  const earlier = listTrials(house.database).find((trial) => sameName(trial.crop, crop));
  if (earlier) {
    const { betweenPlantsMm, betweenRowsMm } = earlier;
    return { betweenPlantsMm, betweenRowsMm, spacingFrom: `as in your trial “${earlier.question}”` };
  }
  const { isKnown, ...spacing } = usualSpacing(crop);
  const spacingFrom = isKnown
    ? `usual for ${crop.toLowerCase()} (common practice)`
    : "a middling spacing, since this crop is new here";
  return { ...spacing, spacingFrom };
}

function withoutCheck(entries: TrialPlan["entries"]): Fault[] {
  if (entries.some((entry) => entry.role === "check")) return [];
  const wanted = "a variety that you know here, for the others to be measured against";
  return [{ place: "entries.check", found: "nothing", wanted }];
}

/** The design and numbers to be proposed, for the grower's own design where one is chosen. */
function proposedPlots(
  request: Omit<PlanRequest, "design" | "plotsPerBlock">,
  chosen: Design | undefined,
  plotsPerBlock: number | undefined,
): Outcome<DesignProposal> {
  if (chosen === undefined) {
    const proposed = proposeDesign(request);
    if (proposed) return success(proposed);
  } else {
    const own = {
      ...request,
      design: chosen,
      plotsPerBlock: plotsPerBlock ?? usualPlotsPerBlock(request.entries) ?? undefined,
    };
    const plans = proposePlan(own);
    if (plans.length > 0) {
      const small = chosen === "incomplete-blocks" ? (own.plotsPerBlock ?? null) : null;
      return success({ design: chosen, why: "As you chose.", plotsPerBlock: small, plans });
    }
  }
  const design = chosen ?? ((request.levels ?? 0) > 1 ? "split-plot" : "rcbd");
  const blocks = design === "latin" ? request.entries : design === "rcbd" || design === "crd" ? 1 : 2;
  const least = { ...request, design, blocks, plantsPerPlot: 1, plotsPerBlock };
  const misfits = designMisfits(least);
  if (misfits.length > 0) return refusal(misfits);
  const fit = fitBed(least);
  if (!fit.ok) return fit;
  const found = `${request.plantsToHand ?? "no"} plants of each variety`;
  return refusal([{ place: "plantsToHand", found, wanted: `at least ${blocks}, one for each of its plots` }]);
}

/**
 * Proposes the rest of a plan from its beginning: a design with its reason, blocks and plants that fit the beds, spacing,
 * looks, floors. Refused with every fault of the beginning, and when not even single plants fit.
 */
export function proposeTrial(house: House, input: unknown): Outcome<TrialProposal> {
  const form = readForm(beginningSchema, input);
  if (!form.ok) return form;
  const beginning = form.value;
  const dates = usualDates(beginning.plantedOn as Day, findGarden(house.database)?.latitude ?? 0);
  const { spacingFrom, ...spacing } = spacingFor(house, beginning.crop);
  const { betweenPlantsMm = spacing.betweenPlantsMm, betweenRowsMm = spacing.betweenRowsMm } = beginning;
  const isOwn = betweenPlantsMm !== spacing.betweenPlantsMm || betweenRowsMm !== spacing.betweenRowsMm;
  const levels = beginning.mainPlots?.levels.length;
  const plan: TrialPlan = {
    ...beginning,
    ...dates,
    betweenPlantsMm,
    betweenRowsMm,
    design: levels === undefined ? "rcbd" : "split-plot",
    seed: 0,
    blocks: 2,
    plantsPerPlot: 1,
    pickingRule: usualPicking,
    rule: usualRule,
  };
  const misfits = [...withoutCheck(plan.entries), ...planMisfits(plan), ...gardenMisfits(house, plan)].filter(
    (fault) => fault.place !== "rule.yieldFloor",
  );
  if (misfits.length > 0) return refusal(misfits);

  const request = {
    entries: plan.entries.length,
    checks: plan.entries.filter((entry) => entry.role !== "entry").length,
    levels,
    factor: beginning.mainPlots?.factor,
    betweenPlantsMm,
    betweenRowsMm,
    gradient: plan.gradient ?? undefined,
    guardRows: plan.guardRows,
    pathSide: plan.pathSide ?? undefined,
    plantsToHand: beginning.plantsToHand,
    scatter: ownScatter(house, beginning.crop),
    beds: plan.beds.map((bed) => ({ ...bed, id: bed.name })),
  };
  // Something to deal to main plots makes it a split plot, whatever was chosen before.
  const chosen = levels === undefined ? beginning.design : beginning.design && "split-plot";
  const proposed = proposedPlots(request, chosen, beginning.plotsPerBlock ?? undefined);
  if (!proposed.ok) return proposed;
  return success({
    ...dates,
    betweenPlantsMm,
    betweenRowsMm,
    spacingFrom: isOwn ? "as you set it" : spacingFrom,
    ...proposed.value,
    pickingRule: plan.pickingRule,
    rule: plan.rule,
  });
}
