import * as z from "zod/mini";
import { type EmptyTrial, type MadeUpResult, madeUpTrial } from "@/lib/analysis/made-up-trial";
import { madeUpYields } from "@/lib/analysis/made-up-yields";
import type { RecordPlot } from "@/lib/analysis/trial-record";
import { fitRequestOf, layOutTrial } from "@/lib/design/lay-out-trial";
import {
  mainPlotsSeen,
  noYield,
  type Scatter,
  scatterOf,
  usualMainPlotSd,
  usualShare,
  whatItTells,
} from "@/lib/design/what-it-tells";
import type { Estimate } from "@/lib/statistics/interval";
import { randomStream } from "@/lib/statistics/random-stream";
import { type Outcome, success } from "@/lib/words/fault";
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
  plotsPerBlock: shape.plotsPerBlock,
  gradient: shape.gradient,
  guardRows: shape.guardRows,
  pathSide: shape.pathSide,
});

export interface SimulatedBatch {
  trials: number;
  /** What was tried, in words, and how many of the trials showed it. */
  tries: { words: string; seen: number }[];
  /** In a look-see bed: the share at which the best-looking variety stood, summed over the trials, all truly alike. */
  bestShown: number | null;
}

/** So few that the page hears of it several times a second. */
const trialsInBatch = 100;
const level = 0.95;
/** Of a variety that winter kills, so many are taken to stand. */
const deadShare = 0.05;

function isSeen(difference: Estimate | null | undefined): boolean {
  return difference != null && (difference.low > 0 || difference.high < 0);
}

/** A trial like the plan as it is dealt, every plot with its treatment, and nothing in it yet. */
function emptyTrial(plan: z.infer<typeof simulatedSchema>): Outcome<EmptyTrial> {
  const beds = plan.beds.map((bed, position) => ({ ...bed, id: `${position}` }));
  const entries = plan.entries.map((_, position) => `${position}`);
  const layout = layOutTrial(planLayout(plan, { beds, entries, levels: levelWords(plan.mainPlots) }));
  if (!layout.ok) return layout;
  const check = Math.max(
    0,
    plan.entries.findIndex((entry) => entry.role === "check"),
  );
  return success({
    design: plan.design,
    varieties: entries,
    check: entries[check],
    plots: layout.value.plots.map(
      (plot): RecordPlot => ({
        id: plot.code,
        code: plot.code,
        variety: plot.entryId,
        replicate: plot.replicate === null ? null : String(plot.replicate),
        block: plot.block === null ? null : String(plot.block),
        mainPlot: plot.mainPlot,
        row: plot.row,
        column: plot.column,
        cover: plot.level,
        sownOn: null,
        plants: plot.plants,
        plantedOn: null,
        areaM2: null,
      }),
    ),
  });
}

/**
 * One batch of trials like the plan, made up plot by plot and each put through the analysis that the results will use, to
 * see how often the differences that the closed form names would show. Every batch has a stream of its own from the plan's
 * seed; the same plan gives the same answer.
 *
 * Of a look-see bed it tells how often a dead variety is told from a check that lives, and how well the best-looking stood
 * where all were alike.
 */
export function simulateTrial(input: unknown, batch: number, scatter?: Scatter): Outcome<SimulatedBatch> {
  const form = readForm(simulatedSchema, input);
  if (!form.ok) return form;
  const plan = form.value;
  const empty = emptyTrial(plan);
  if (!empty.ok) return empty;
  const trial = empty.value;
  const levels = levelWords(plan.mainPlots);
  const beds = plan.beds.map((bed, position) => ({ ...bed, id: `${position}` }));
  const size = { ...fitRequestOf(planLayout(plan, { beds, entries: trial.varieties, levels })), scatter };
  const { icc, cv } = scatterOf(size);
  const stream = randomStream((plan.seed + 7919 * (batch + 1)) % 4_294_967_296);
  // In a look-see bed a tender check stands in every block as well: a new variety is asked of.
  const isNew = (variety: string) => plan.entries[Number(variety)].role === "entry";
  const other =
    trial.varieties.find((variety) => variety !== trial.check && isNew(variety)) ??
    trial.varieties.find((variety) => variety !== trial.check);
  const run = (share: (plot: RecordPlot) => number, hear: (result: MadeUpResult) => void) => {
    for (let made = 0; made < trialsInBatch; made += 1)
      hear(madeUpTrial(trial, { share, icc, mainPlotSd: usualMainPlotSd, level, stream }));
  };
  /** How many trials show a variety that stands so much worse than the check and all others. */
  const varietySeen = (difference: number) => {
    let seen = 0;
    const share = (plot: RecordPlot) =>
      plot.variety === other ? Math.max(0, usualShare - difference) : usualShare;
    run(share, (result) => {
      const own = result.varieties.find((one) => one.variety === other);
      if (isSeen(own?.difference)) seen += 1;
    });
    return seen;
  };
  const points = (difference: number) => `${Math.round(difference * 100)} points`;
  const { oftenSeen, seldomSeen, yieldOftenSeen } = whatItTells(size);
  /** How many trials show a variety that yields so much less than the check and all others; none where nothing would show. */
  const yieldTries = (): SimulatedBatch["tries"] => {
    if (yieldOftenSeen === null || yieldOftenSeen >= noYield) return [];
    const less = 1 - yieldOftenSeen;
    let seen = 0;
    for (let made = 0; made < trialsInBatch; made += 1) {
      const ratio = (plot: RecordPlot) => (plot.variety === other ? less : 1);
      const own = madeUpYields(trial, { ratio, cv, level, stream }).find((one) => one.variety === other);
      if (own && own.low !== null && own.high !== null && (own.low > 1 || own.high < 1)) seen += 1;
    }
    return [{ words: `a yield ${Math.round(yieldOftenSeen * 100)} in 100 less than the check’s`, seen }];
  };

  if (plan.design === "augmented") {
    let bestShown = 0;
    const seen = varietySeen(usualShare - deadShare);
    run(
      () => usualShare,
      (result) => {
        const entries = result.shares.filter((one) => one.variety !== trial.check);
        bestShown += Math.max(...entries.map((one) => one.share ?? 0));
      },
    );
    const words = `a variety of which ${deadShare * 100} in 100 stand, beside a check of which ${usualShare * 100} do,`;
    return success({ trials: trialsInBatch, tries: [{ words, seen }, ...yieldTries()], bestShown });
  }

  const tries: SimulatedBatch["tries"] = [];
  for (const difference of [oftenSeen, seldomSeen])
    if (difference !== null)
      tries.push({ words: `a difference of ${points(difference)}`, seen: varietySeen(difference) });
  const betweenMain = plan.design === "split-plot" ? mainPlotsSeen(size) : null;
  if (betweenMain !== null) {
    let seen = 0;
    run(
      (plot) => (plot.cover === levels[1] ? Math.max(0, usualShare - betweenMain) : usualShare),
      (result) => {
        if (isSeen(result.treatments)) seen += 1;
      },
    );
    const between = {
      cover: "between two covers",
      sowing: "between two sowing dates",
      companion: "between plants with a companion and plants alone",
    }[plan.mainPlots?.factor ?? "cover"];
    tries.push({ words: `one of ${points(betweenMain)} ${between}`, seen });
  }
  tries.push(...yieldTries());
  return success({ trials: trialsInBatch, tries, bestShown: null });
}
