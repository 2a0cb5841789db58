import { findGarden } from "@/db/queries/find-garden";
import { listBedFacts } from "@/db/queries/list-bed-facts";
import { listBeds } from "@/db/queries/list-beds";
import { countTrialsInBeds, listLatestInBeds } from "@/db/queries/list-latest-in-beds";
import { inForce } from "@/lib/journal/in-force";
import type { BedFact } from "@/lib/words/bed-fact";
import { addDays, type Day } from "@/lib/words/day";
import type { House } from "./house";
import { todayAt } from "./today-at";

/** So far back a fact of a bed is news; before that it is in the log. */
const latelyDays = 28;

/** A bed's trials of the last years; the earlier ones are counted. */
const trialsTold = 4;

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
    /** The last planted first; no more than are told of a bed. */
    trials: TrialInBed[];
    /** How many stood here before those. */
    earlier: number;
  }[];
}

/** Every bed with the trials that it holds and held last, and what stood over them. */
export function bedsView(house: House): BedsView {
  const { database } = house;
  const lately = inForce(listBedFacts(database, { since: addDays(todayAt(house), -latelyDays) })).reverse();
  const held = listLatestInBeds(database, trialsTold);
  const counts = new Map(countTrialsInBeds(database).map(({ bedId, trials }) => [bedId, trials]));
  return {
    garden: findGarden(database),
    beds: listBeds(database).map(({ id, name, widthMm, lengthMm, setting }) => {
      const trials = held.filter((row) => row.bedId === id);
      return {
        id,
        name,
        widthMm,
        lengthMm,
        setting,
        lately: lately.filter((fact) => fact.bedId === id),
        trials: trials.map(({ bedId: _, ...trial }) => trial),
        earlier: (counts.get(id) ?? 0) - trials.length,
      };
    }),
  };
}
