import { inOneAct } from "@/db/open";
import { listPlots } from "@/db/queries/list-plots";
import { type Outcome, refusal, success } from "@/lib/words/fault";
import { amendPlot } from "./amend-plot";
import type { House } from "./house";

/**
 * Takes every plot of one variety out of the reckoning from a day on, each with the same reason: it did not come up, or it
 * was not what the packet said. All or nothing; as `amendPlot` otherwise.
 */
export function amendEntry(
  house: House,
  input: { trialId: string; entryId: string; kind: string; fromOn: string; reason: string; by: string },
): Outcome<{ plots: number }> {
  const { entryId, ...change } = input;
  return inOneAct(house.database, () => {
    const plots = listPlots(house.database, input.trialId).filter((plot) => plot.entryId === entryId);
    if (plots.length === 0)
      return refusal([{ place: "plotId", found: entryId, wanted: "a variety of this trial" }]);
    for (const plot of plots) {
      const amended = amendPlot(house, { ...change, plotId: plot.id });
      if (!amended.ok) return amended;
    }
    return success({ plots: plots.length });
  });
}
