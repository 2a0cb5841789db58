import { randomInt } from "node:crypto";
import { findGarden } from "@/db/queries/find-garden";
import { listTrialBeds } from "@/db/queries/list-trial-beds";
import { listTrials } from "@/db/queries/list-trials";
import type { House } from "./house";
import { type PlanningChoices, planningChoices } from "./planning-choices";

export interface OpenPlan {
  hasGarden: boolean;
  /** The id that the trial will have. */
  trialId: string;
  /** From which its plots will be dealt; short enough to be read out. */
  seed: number;
  choices: PlanningChoices;
  /** Names of the beds that hold an open trial. */
  bedsInUse: string[];
}

const seeds = 100_000;

/** What an empty plan starts with. */
export function openPlan(house: House): OpenPlan {
  const { database } = house;
  const open = new Set(
    listTrials(database)
      .filter((trial) => trial.closedOn === null)
      .map((trial) => trial.id),
  );
  return {
    hasGarden: findGarden(database) !== null,
    trialId: house.newId(),
    seed: randomInt(1, seeds),
    choices: planningChoices(house),
    bedsInUse: listTrialBeds(database)
      .filter((row) => open.has(row.trialId))
      .map((row) => row.name),
  };
}
