import type { Design, MainFactor } from "@/lib/words/trial";
import { incompleteBlocks } from "./incomplete-blocks";
import { type PlanProposal, type PlanRequest, proposePlan } from "./propose-plan";

export interface DesignProposal {
  design: Design;
  /** Why this one, in a sentence for the grower. */
  why: string;
  /** Only where blocks are incomplete. */
  plotsPerBlock: number | null;
  plans: PlanProposal[];
}

/** From so many varieties on a block of all of them is too long a stretch to be much alike (*common practice*). */
const manyEntries = 12;
/** Fewer plants a plot than this, and a plot says little. */
const fewestPlants = 3;

/** Why what is compared is dealt to whole main plots. */
const whyMain: Record<MainFactor, string> = {
  cover: "A cover cannot go over one small plot alone",
  sowing: "A sowing date cannot go to one small plot alone",
  companion: "A companion reaches over the edge of one small plot",
};

/** The most plots in small blocks of so many varieties; null where there are none to be had. */
export function usualPlotsPerBlock(entries: number): number | null {
  const plots = Math.floor(Math.sqrt(entries));
  return incompleteBlocks(entries, plots)?.plotsPerBlock ?? null;
}

/**
 * Proposes how the plots should be dealt, and with it how many: from the number of varieties, what covers, sowing
 * dates or companions are to be compared, the beds, and the plants to hand. The first of these that the beds hold with a worthwhile
 * number of plants: a split plot where there is something to deal to main plots; small blocks for twelve varieties or
 * more; whole blocks; and where there is no room or are no plants for two plots of each, a look-see bed with the check
 * repeated. Null when nothing fits.
 */
export function proposeDesign(request: Omit<PlanRequest, "design" | "plotsPerBlock">): DesignProposal | null {
  const { entries, levels = 0, checks = 0 } = request;
  const plansOf = (design: Design, plotsPerBlock?: number) =>
    proposePlan({ ...request, design, plotsPerBlock });
  const isWorthwhile = (plans: PlanProposal[]) =>
    plans.length > 0 && plans[0].blocks > 1 && plans[0].plantsPerPlot >= fewestPlants;
  if (levels > 1) {
    const plans = plansOf("split-plot");
    const why = `${whyMain[request.factor ?? "cover"]}: each is dealt to a whole stretch of bed with every variety in it, and that in every block.`;
    return plans.length > 0 ? { design: "split-plot", why, plotsPerBlock: null, plans } : null;
  }
  const small = usualPlotsPerBlock(entries);
  if (entries >= manyEntries && small !== null) {
    const plans = plansOf("incomplete-blocks", small);
    const why = `A block of ${entries} varieties would be too long a stretch of bed to be much alike; blocks of ${small} are, and chance mixes the varieties anew each time round.`;
    if (isWorthwhile(plans)) return { design: "incomplete-blocks", why, plotsPerBlock: small, plans };
  }
  const whole = plansOf("rcbd");
  if (isWorthwhile(whole) || checks === 0 || entries < 6) {
    const why =
      "Every variety stands once in each block, and a block is a stretch of bed that is much alike: one bad corner cannot decide for or against a variety.";
    return whole.length > 0 ? { design: "rcbd", why, plotsPerBlock: null, plans: whole } : null;
  }
  const lookSee = plansOf("augmented");
  if (lookSee.length > 0) {
    const why =
      "There is no room, or there are too few plants, for two worthwhile plots of each variety: each stands once, and the check again in every block to show how the ground differs.";
    return { design: "augmented", why, plotsPerBlock: null, plans: lookSee };
  }
  return whole.length > 0
    ? { design: "rcbd", why: "It is what fits.", plotsPerBlock: null, plans: whole }
    : null;
}
