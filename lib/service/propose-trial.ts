import * as z from "zod/mini";
import { findGarden } from "@/db/queries/find-garden";
import { listTrials } from "@/db/queries/list-trials";
import { fitBed } from "@/lib/design/fit-bed";
import { type PlanProposal, proposePlan } from "@/lib/design/propose-plan";
import type { Day } from "@/lib/words/day";
import { type Fault, type Outcome, refusal, success } from "@/lib/words/fault";
import { type TrialPlan, trialPlanSchema } from "@/lib/words/trial-plan";
import { gardenMisfits } from "./garden-misfits";
import type { House } from "./house";
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
});

export interface TrialProposal extends UsualDates {
  betweenPlantsMm: number;
  betweenRowsMm: number;
  /** Where the spacing comes from, for reading. */
  spacingFrom: string;
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

/**
 * Proposes the rest of a plan from its beginning: blocks and plants that fit the beds, spacing, looks, floors. Refused
 * with every fault of the beginning, and when not even two plots of single plants fit.
 */
export function proposeTrial(house: House, input: unknown): Outcome<TrialProposal> {
  const form = readForm(beginningSchema, input);
  if (!form.ok) return form;
  const beginning = form.value;
  const dates = usualDates(beginning.plantedOn as Day, findGarden(house.database)?.latitude ?? 0);
  const { spacingFrom, ...spacing } = spacingFor(house, beginning.crop);
  const { betweenPlantsMm = spacing.betweenPlantsMm, betweenRowsMm = spacing.betweenRowsMm } = beginning;
  const isOwn = betweenPlantsMm !== spacing.betweenPlantsMm || betweenRowsMm !== spacing.betweenRowsMm;
  const plan: TrialPlan = {
    ...beginning,
    ...dates,
    betweenPlantsMm,
    betweenRowsMm,
    design: "rcbd",
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
    design: plan.design,
    entries: plan.entries.length,
    betweenPlantsMm,
    betweenRowsMm,
    beds: plan.beds.map((bed) => ({ ...bed, id: bed.name })),
  };
  const plans = proposePlan(request);
  if (plans.length === 0) {
    const fit = fitBed({ ...request, blocks: 1, plantsPerPlot: 1 });
    if (!fit.ok) return fit;
  }
  return success({
    ...dates,
    betweenPlantsMm,
    betweenRowsMm,
    spacingFrom: isOwn ? "as you set it" : spacingFrom,
    plans,
    pickingRule: plan.pickingRule,
    rule: plan.rule,
  });
}
