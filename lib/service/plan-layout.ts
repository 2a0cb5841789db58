import type { LayoutRequest } from "@/lib/design/lay-out-trial";
import type { TrialPlan } from "@/lib/words/trial-plan";

/** The part of a plan that its layout comes from. */
export type DrawnPlan = Pick<
  TrialPlan,
  | "entries"
  | "design"
  | "seed"
  | "blocks"
  | "plantsPerPlot"
  | "betweenPlantsMm"
  | "betweenRowsMm"
  | "mainPlots"
  | "plotsPerBlock"
  | "gradient"
  | "guardRows"
  | "pathSide"
>;

/** What `layOutTrial` deals for a plan, its entries, main-plot levels and beds going under these ids. */
export function planLayout(
  plan: DrawnPlan,
  ids: { entries: string[]; levels: string[]; beds: (TrialPlan["beds"][number] & { id: string })[] },
): LayoutRequest {
  return {
    design: plan.design,
    seed: plan.seed,
    entries: ids.entries,
    checks: ids.entries.filter((_, index) => plan.entries[index].role !== "entry"),
    levels: ids.levels,
    blocks: plan.blocks,
    plantsPerPlot: plan.plantsPerPlot,
    betweenPlantsMm: plan.betweenPlantsMm,
    betweenRowsMm: plan.betweenRowsMm,
    plotsPerBlock: plan.plotsPerBlock ?? undefined,
    gradient: plan.gradient ?? undefined,
    guardRows: plan.guardRows,
    pathSide: plan.pathSide ?? undefined,
    beds: ids.beds.map(({ id, widthMm, lengthMm, potMm, takenUp }) => ({
      id,
      widthMm,
      lengthMm,
      potMm,
      takenUp,
    })),
  };
}
