import * as z from "zod/mini";
import { fitRequestOf, type LaidPlot, layOutTrial } from "@/lib/design/lay-out-trial";
import { type OneMore, oneMoreOf } from "@/lib/design/one-more";
import { planCautions } from "@/lib/design/plan-cautions";
import { planReach } from "@/lib/design/plan-reach";
import { type PlanProposal, proposePlan } from "@/lib/design/propose-plan";
import { type Scatter, type WhatItTells, whatItTells } from "@/lib/design/what-it-tells";
import type { Day } from "@/lib/words/day";
import { type Outcome, success } from "@/lib/words/fault";
import type { ReachPoint } from "@/lib/words/reach-point";
import { sayCompanionLevel } from "@/lib/words/say-under";
import type { Companion } from "@/lib/words/trial";
import { type TrialPlan, trialPlanSchema } from "@/lib/words/trial-plan";
import { comparedCompanions, levelWords } from "./level-words";
import { planLayout } from "./plan-layout";
import { readForm } from "./read-form";

const { shape } = trialPlanSchema;

/** The part of a plan that can be drawn. */
const drawnSchema = z.object({
  entries: shape.entries,
  beds: shape.beds,
  design: shape.design,
  seed: shape.seed,
  blocks: shape.blocks,
  plantsPerPlot: shape.plantsPerPlot,
  betweenPlantsMm: shape.betweenPlantsMm,
  betweenRowsMm: shape.betweenRowsMm,
  mainPlots: shape.mainPlots,
  plotsPerBlock: shape.plotsPerBlock,
  gradient: shape.gradient,
  guardRows: shape.guardRows,
  pathSide: shape.pathSide,
  companions: shape.companions,
  plantsToHand: z.optional(z.int().check(z.minimum(1))),
});

/** What the cautions look at besides; a plan whose dates cannot be read yet is drawn without them. */
const datedSchema = z.object({
  crop: shape.crop,
  sownOn: shape.sownOn,
  plantedOn: shape.plantedOn,
  covers: shape.covers,
});

export interface TrialSketch {
  beds: (TrialPlan["beds"][number] & { id: string })[];
  plots: (LaidPlot & { variety: string; isCheck: boolean; under: string | null })[];
  /** What main plots are dealt, in words; none but in a split plot. */
  levels: string[];
  /** Each with the main plots that it stands in, by their words; null in every plot. */
  companions: (Companion & { under: string | null })[];
  /** What could not be told apart afterwards, in sentences. */
  cautions: string[];
  tells: WhatItTells;
  /** What else would fit the same beds at the same spacing, the one to be taken first. */
  plans: PlanProposal[];
  /** What one more block would buy, and two more plants a plot. */
  oneMore: OneMore;
  /** What would show over numbers of blocks and plants a plot; none in a look-see bed. */
  reach: ReachPoint[];
}

/**
 * The layout as `createTrial` will deal it from the same plan, before anything is stored.
 *
 * @param scatter of the garden's own trials of the crop; without it the usual is taken
 */
export function sketchTrial(input: unknown, scatter?: Scatter): Outcome<TrialSketch> {
  const form = readForm(drawnSchema, input);
  if (!form.ok) return form;
  const { plantsToHand, ...plan } = form.value;
  const beds = plan.beds.map((bed, position) => ({ ...bed, id: `${position + 1}` }));
  const asked = planLayout(plan, {
    beds,
    entries: plan.entries.map((_, position) => `${position}`),
    levels: levelWords(plan.mainPlots),
  });
  const layout = layOutTrial(asked);
  if (!layout.ok) return layout;
  const size = { ...fitRequestOf(asked), scatter, factor: plan.mainPlots?.factor };
  const dated = datedSchema.safeParse(input);
  return success({
    beds,
    plots: layout.value.plots.map((plot) => {
      const { variety, role } = plan.entries[Number(plot.entryId)];
      return { ...plot, variety, isCheck: role === "check", under: plot.level };
    }),
    levels: levelWords(plan.mainPlots),
    companions: [
      ...(plan.companions ?? []).map((row) => ({ ...row, under: null })),
      ...comparedCompanions(plan).map((row) => ({ ...row, under: sayCompanionLevel(row.name) })),
    ].map((row) => ({ ...row, sownOn: row.sownOn as Day })),
    cautions: dated.success ? planCautions({ ...plan, ...dated.data }) : [],
    tells: whatItTells(size),
    plans: proposePlan({ ...size, plantsToHand }),
    oneMore: oneMoreOf(size),
    reach: planReach(size),
  });
}
