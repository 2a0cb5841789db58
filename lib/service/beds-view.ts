import { findGarden } from "@/db/queries/find-garden";
import { listBedFacts } from "@/db/queries/list-bed-facts";
import { listBeds } from "@/db/queries/list-beds";
import { listCoverPlacings } from "@/db/queries/list-cover-placings";
import { listTrialBeds } from "@/db/queries/list-trial-beds";
import { listTrials } from "@/db/queries/list-trials";
import { inForce } from "@/lib/journal/in-force";
import type { BedFact } from "@/lib/words/bed-fact";
import { addDays, type Day } from "@/lib/words/day";
import type { House } from "./house";
import { todayAt } from "./today-at";

/** So far back a fact of a bed is news; before that it is in the log. */
const latelyDays = 28;

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
    /** What was told of the bed in the last weeks and counts, the latest first. */
    lately: BedFact[];
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
  const lately = inForce(listBedFacts(database, { since: addDays(todayAt(house), -latelyDays) })).reverse();
  return {
    garden: findGarden(database),
    beds: listBeds(database).map(({ id, name, widthMm, lengthMm, setting }) => ({
      id,
      name,
      widthMm,
      lengthMm,
      setting,
      lately: lately.filter((fact) => fact.bedId === id),
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
