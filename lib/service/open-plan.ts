import { randomInt } from "node:crypto";
import { findGarden } from "@/db/queries/find-garden";
import { listBedsInUse } from "@/db/queries/list-beds-in-use";
import type { House } from "./house";
import { type PlanningChoices, planningChoices } from "./planning-choices";
import { whileUnchanged } from "./while-unchanged";

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
  return {
    hasGarden: findGarden(database) !== null,
    trialId: house.newId(),
    seed: randomInt(1, seeds),
    ...whileUnchanged(house, ["plan"], () => ({
      choices: planningChoices(house),
      bedsInUse: listBedsInUse(database),
    })),
  };
}
