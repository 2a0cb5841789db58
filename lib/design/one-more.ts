import { designMisfits } from "./design-misfits";
import { type FitRequest, fitsBeds, plotsOf } from "./fit-bed";
import { noYield, type TrialSize, type WhatItTells, whatItTells } from "./what-it-tells";

/** One step more of either kind, what it would tell, and whether the beds hold it. */
export interface Step {
  tells: WhatItTells;
  /** Plants more in the whole trial. */
  plantsMore: number;
  fits: boolean;
}

export interface OneMore {
  /** Null for a Latin square, which cannot have a block more. */
  block: Step | null;
  twoPlants: Step;
  /** What each would buy, in a sentence or two. */
  sentences: string[];
}

const inHundred = (share: number) => Math.round(share * 100);

function stepOf(plan: FitRequest & Pick<TrialSize, "scatter" | "factor">, more: Partial<FitRequest>): Step {
  const size = { ...plan, ...more };
  return {
    tells: whatItTells(size),
    plantsMore: plotsOf(size) * size.plantsPerPlot - plotsOf(plan) * plan.plantsPerPlot,
    fits: designMisfits(size).length === 0 && fitsBeds(size),
  };
}

/** What a step buys of one figure: `takes the 38 points down to 33`, by whole hundredths as they are shown. */
function bought(before: number | null, after: number | null, unit: string): string | null {
  if (after === null) return null;
  if (before === null) return `a difference of ${inHundred(after)}${unit} would show four times in five`;
  const less = inHundred(before) - inHundred(after);
  return less > 0
    ? `${less}${unit}, from ${inHundred(before)} down to ${inHundred(after)}`
    : "next to nothing";
}

function sentencesOf(now: WhatItTells, block: Step | null, twoPlants: Step, blockName: string): string[] {
  const steps = [
    ...(block ? [{ words: `one more ${blockName}`, step: block }] : []),
    { words: "two more plants a plot", step: twoPlants },
  ].map(({ words, step }) => {
    const unfit = step.fits ? "" : ", which the bed does not hold as it stands";
    return { words: `${words} (${step.plantsMore} plants more in all${unfit})`, step };
  });
  const sentences: string[] = [];
  const survival = steps.map(({ words, step }) => {
    const buys = bought(now.oftenSeen, step.tells.oftenSeen, " points");
    return `${words} ${buys === null ? "would not yet let any difference show as often as that" : `buys ${buys}`}`;
  });
  sentences.push(`In survival, ${survival.join("; ")}.`);
  if (block && now.yieldOftenSeen !== null) {
    const after = block.tells.yieldOftenSeen;
    const isNothing = after === null || after >= noYield;
    if (!isNothing)
      sentences.push(
        `In yield, one more ${blockName} buys ${bought(now.yieldOftenSeen, after, " in 100")}; more plants a plot steady each plot’s weight a little, which is not counted here.`,
      );
  }
  return sentences;
}

/** What one more block would buy, and two more plants a plot, beside the plan as it stands. */
export function oneMoreOf(plan: FitRequest & Pick<TrialSize, "scatter" | "factor">): OneMore {
  const isCrd = plan.design === "crd";
  const blockName = isCrd ? "plot of each" : plan.design === "incomplete-blocks" ? "replicate" : "block";
  const block = plan.design === "latin" ? null : stepOf(plan, { blocks: plan.blocks + 1 });
  const twoPlants = stepOf(plan, { plantsPerPlot: plan.plantsPerPlot + 2 });
  return { block, twoPlants, sentences: sentencesOf(whatItTells(plan), block, twoPlants, blockName) };
}
