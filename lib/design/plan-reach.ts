import type { ReachPoint } from "@/lib/words/reach-point";
import { designMisfits } from "./design-misfits";
import { type FitRequest, fitsBeds } from "./fit-bed";
import { reachOf, type TrialSize } from "./what-it-tells";

const usualBlocks = { fewest: 2, most: 6 } as const;
/** What a household sets out and still counts. */
const usualPlants = 12;

/** Up to so many numbers of blocks, the plan's own among them. */
function blockCounts({ design, blocks }: FitRequest): number[] {
  if (design === "latin") return [blocks];
  const last = Math.max(usualBlocks.most, blocks + 1);
  const first = Math.max(usualBlocks.fewest, last - (usualBlocks.most - usualBlocks.fewest) - 1);
  const counts = Array.from({ length: last - first + 1 }, (_, index) => first + index);
  return blocks < first ? [blocks, ...counts] : counts;
}

/**
 * What a trial would show over numbers of blocks and of plants a plot, in closed form as `whatItTells` has it: the plan as
 * it stands, its neighbours, and what is usual. Empty for a look-see bed, which compares nothing.
 *
 * @param request a plan that can be dealt
 */
export function planReach(request: FitRequest & Pick<TrialSize, "scatter" | "factor">): ReachPoint[] {
  if (request.design === "augmented") return [];
  const { plantsPerPlot: planned } = request;
  const most = Math.max(usualPlants, planned + 2);
  // Of a very large plot every so many will do; the plan's own number stays among them.
  const step = Math.ceil(most / 20);
  const plants = [...new Set([...Array.from({ length: most }, (_, index) => index + 1), planned])]
    .filter((count) => count === planned || count % step === 0)
    .sort((a, b) => a - b);
  return blockCounts(request).flatMap((blocks) =>
    plants.map((plantsPerPlot): ReachPoint => {
      const size = { ...request, blocks, plantsPerPlot };
      const { oftenSeen, yieldOftenSeen } = reachOf(size);
      return {
        blocks,
        plantsPerPlot,
        survival: oftenSeen,
        yield: yieldOftenSeen,
        fits: designMisfits(size).length === 0 && fitsBeds(size),
        isPlan: blocks === request.blocks && plantsPerPlot === planned,
      };
    }),
  );
}
