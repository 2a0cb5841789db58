import type { Day } from "@/lib/words/day";
import type { TrialState } from "@/lib/words/trial";

/** Where a trial stands today. Never stored: a planned trial runs from its planting day, or from its first fact. */
export function trialState(
  trial: { plantedOn: Day; closedOn: Day | null; hasObservations: boolean },
  today: Day,
): TrialState {
  if (trial.closedOn !== null) return "closed";
  return trial.plantedOn <= today || trial.hasObservations ? "running" : "planned";
}
