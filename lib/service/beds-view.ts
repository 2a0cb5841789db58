import { findGarden } from "@/db/queries/find-garden";
import { listBeds } from "@/db/queries/list-beds";
import { listCoverPlacings } from "@/db/queries/list-cover-placings";
import { listTrialBeds } from "@/db/queries/list-trial-beds";
import { listTrials } from "@/db/queries/list-trials";
import type { Day } from "@/lib/words/day";
import type { House } from "./house";

export interface TrialInBed {
  id: string;
  question: string;
  crop: string;
  plantedOn: Day;
  closedOn: Day | null;
  clearBy: Day | null;
  /** Over this bed, outermost first. */
  covers: { name: string; kind: string; fromOn: Day; untilOn: Day | null }[];
}

export interface BedsView {
  garden: { name: string; timeZone: string; latitude: number; longitude: number } | null;
  /** In walking order. */
  beds: {
    id: string;
    name: string;
    widthMm: number;
    lengthMm: number;
    setting: string;
    /** The last planted first. */
    trials: TrialInBed[];
  }[];
}

/** Every bed with the trials that it holds and held, and what stood over them. */
export function bedsView(house: House): BedsView {
  const { database } = house;
  const trials = listTrials(database);
  const trialBeds = listTrialBeds(database);
  const placings = new Map(trials.map((trial) => [trial.id, listCoverPlacings(database, trial.id)]));
  return {
    garden: findGarden(database),
    beds: listBeds(database).map(({ id, name, widthMm, lengthMm, setting }) => ({
      id,
      name,
      widthMm,
      lengthMm,
      setting,
      trials: trials
        .filter((trial) => trialBeds.some((row) => row.trialId === trial.id && row.id === id))
        .map((trial) => ({
          id: trial.id,
          question: trial.question,
          crop: trial.crop,
          plantedOn: trial.plantedOn,
          closedOn: trial.closedOn,
          clearBy: trial.clearBy,
          covers: (placings.get(trial.id) ?? [])
            .filter((placing) => placing.bedId === id)
            .map((placing) => ({
              name: placing.name,
              kind: placing.kind,
              fromOn: placing.fromOn,
              untilOn: placing.untilOn,
            })),
        })),
    })),
  };
}
