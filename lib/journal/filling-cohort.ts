import type { Day } from "@/lib/words/day";

/**
 * Which cohort plants put into a plot's gaps belong to: null, the planting, up to and on the day of the *took*
 * assessment (they complete the plot); after it a cohort of its own, named by its day, since it has had less winter.
 *
 * @param tookOn the day the trial judged what took; null when it has no such assessment, and every later filling then
 * stands apart
 */
export function fillingCohort(plantedOn: Day, tookOn: Day | null, filledOn: Day): Day | null {
  return filledOn <= (tookOn ?? plantedOn) ? null : filledOn;
}
