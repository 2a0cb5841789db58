import * as z from "zod/mini";
import { fitRequestOf } from "@/lib/design/lay-out-trial";
import { plotsEach, type Scatter, scatterOf, usualShare, whatItTells } from "@/lib/design/what-it-tells";
import { randomStream } from "@/lib/statistics/random-stream";
import { simulatedSurvivalPower } from "@/lib/statistics/survival-power";
import { type Outcome, refusal, success } from "@/lib/words/fault";
import { trialPlanSchema } from "@/lib/words/trial-plan";
import { levelWords } from "./level-words";
import { planLayout } from "./plan-layout";
import { readForm } from "./read-form";

const { shape } = trialPlanSchema;

const simulatedSchema = z.object({
  entries: shape.entries,
  beds: shape.beds,
  design: shape.design,
  seed: shape.seed,
  blocks: shape.blocks,
  plantsPerPlot: shape.plantsPerPlot,
  betweenPlantsMm: shape.betweenPlantsMm,
  betweenRowsMm: shape.betweenRowsMm,
  mainPlots: shape.mainPlots,
});

export interface SimulatedBatch {
  trials: number;
  /** The differences tried, in share, and how many of the trials showed each. */
  often: { difference: number; seen: number } | null;
  seldom: { difference: number; seen: number } | null;
}

/** So few that the page hears of it several times a second. */
const trialsInBatch = 100;

/**
 * One batch of trials like the plan, simulated and each put through the analysis that the results will use, to see how often
 * the differences that the closed form names would show. Every batch has a stream of its own from the plan's seed; the same
 * plan gives the same answer. Completely random layouts, blocks, and varieties under one cover of a split plot.
 */
export function simulateTrial(input: unknown, batch: number, scatter?: Scatter): Outcome<SimulatedBatch> {
  const form = readForm(simulatedSchema, input);
  if (!form.ok) return form;
  const plan = form.value;
  const layout = plan.design === "crd" ? "crd" : "rcbd";
  if (plan.design !== "crd" && plan.design !== "rcbd" && plan.design !== "split-plot")
    return refusal([
      { place: "design", found: plan.design, wanted: "a random layout, blocks or a split plot" },
    ]);
  const beds = plan.beds.map((bed, position) => ({ ...bed, id: `${position}` }));
  const entries = plan.entries.map((_, position) => `${position}`);
  const asked = planLayout(plan, { beds, entries, levels: levelWords(plan.mainPlots) });
  const size = { ...fitRequestOf(asked), scatter };
  const tells = whatItTells(size);
  const stream = randomStream((plan.seed + 7919 * (batch + 1)) % 4_294_967_296);
  const trial = {
    varieties: entries.length,
    plotsEach: plotsEach(size),
    plantsPerPlot: plan.plantsPerPlot,
    layout,
    icc: scatterOf(size).icc,
    level: 0.95,
  } as const;
  const tried = (difference: number | null) => {
    if (difference === null) return null;
    const share = Math.max(0, usualShare - difference);
    const { power } = simulatedSurvivalPower(trial, usualShare, share, trialsInBatch, stream);
    return { difference, seen: Math.round(power * trialsInBatch) };
  };
  return success({
    trials: trialsInBatch,
    often: tried(tells.oftenSeen),
    seldom: tried(tells.seldomSeen),
  });
}
