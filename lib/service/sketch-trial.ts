import * as z from "zod/mini";
import { type LaidPlot, layOutTrial } from "@/lib/design/lay-out-trial";
import { type PlanProposal, proposePlan } from "@/lib/design/propose-plan";
import { type WhatItTells, whatItTells } from "@/lib/design/what-it-tells";
import { type Outcome, success } from "@/lib/words/fault";
import { trialPlanSchema } from "@/lib/words/trial-plan";
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
});

export interface TrialSketch {
  beds: { id: string; name: string; widthMm: number; lengthMm: number }[];
  plots: (LaidPlot & { variety: string; isCheck: boolean })[];
  tells: WhatItTells;
  /** What else would fit the same beds at the same spacing, the one to be taken first. */
  plans: PlanProposal[];
}

/** The layout as `createTrial` will deal it from the same plan, before anything is stored. */
export function sketchTrial(input: unknown): Outcome<TrialSketch> {
  const form = readForm(drawnSchema, input);
  if (!form.ok) return form;
  const { entries, design, blocks, plantsPerPlot } = form.value;
  const beds = form.value.beds.map((bed, position) => ({ ...bed, id: `${position + 1}` }));
  const layout = layOutTrial({ ...form.value, beds, entries: entries.map((_, position) => `${position}`) });
  if (!layout.ok) return layout;
  return success({
    beds,
    plots: layout.value.plots.map((plot) => {
      const { variety, role } = entries[Number(plot.entryId)];
      return { ...plot, variety, isCheck: role === "check" };
    }),
    tells: whatItTells({ design, entries: entries.length, blocks, plantsPerPlot }),
    plans: proposePlan({ ...form.value, beds, entries: entries.length }),
  });
}
