import type { Day } from "@/lib/words/day";
import type { Observation } from "@/lib/words/observation";
import { type CohortStand, foldCohort } from "./fold-cohort";

/** What the ledger needs to know of a plot. */
export interface StandingPlot {
  id: string;
  /** Plants set out at planting, at least 1. */
  plants: number;
  /** Null where nobody said. */
  plantedOn: Day | null;
}

/** A plot's planting, with the gaps filled later beside it: those are cohorts of their own and never mixed in. */
export interface PlotStand extends CohortStand {
  fillings: CohortStand[];
}

/**
 * How a plot stood on a day: set out, standing, lost by cause between which looks, taken out, still to be settled.
 *
 * The figures are the planting's. Plants added to it before the *took* assessment complete it (`fillingCohort`): each
 * plant put in the ground is one that had to take, so survival is standing ÷ (setOut + added), while the places to be
 * filled, and yield per plant set out, stay at `setOut`. Fillings after that stand apart, earliest first. What is on the
 * ground is the sum.
 *
 * @param facts in any order, of any plots; for many plots give `inForce(facts)` of each plot, which saves work and
 * changes nothing
 * @param day null tells of the whole record; see `foldCohort` for regrowth seen after the day
 */
export function standAt(plot: StandingPlot, facts: readonly Observation[], day: Day | null): PlotStand {
  const days = facts
    .filter((fact) => fact.plotId === plot.id && fact.cohortOn !== null && fact.cohortOn !== plot.plantedOn)
    .map((fact) => fact.cohortOn as Day);
  const filledOn = [...new Set(days)].sort();
  const stand = (setOutOn: Day | null, plants: number) =>
    foldCohort({ plotId: plot.id, setOutOn, plants }, facts, day);
  return {
    ...stand(plot.plantedOn, plot.plants),
    fillings: filledOn
      .map((setOutOn) => stand(setOutOn, 0))
      .filter((filling) => filling.added > 0 || filling.unsettled > 0),
  };
}
