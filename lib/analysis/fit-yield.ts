import type { TrialRecord } from "./trial-record";
import { type FittedYield, fitFixedYield } from "./yield";
import { fitMixedYield } from "./yield-mixed";
import type { ModelPlot } from "./yield-model";

/** Completely randomised, blocks and Latin squares have one error; the other designs several. */
export function hasOneError({ design }: TrialRecord): boolean {
  return design === "crd" || design === "rcbd" || design === "latin";
}

/** The model that the design asks for, of any figure that each plot has one of. */
export function fitYield(record: TrialRecord, plots: ModelPlot[], level: number): FittedYield {
  return hasOneError(record) ? fitFixedYield(record, plots, level) : fitMixedYield(record, plots, level);
}
