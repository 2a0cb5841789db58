import { findGarden } from "@/db/queries/find-garden";
import { listBeds } from "@/db/queries/list-beds";
import { listOpenTrials, listSeasonTrials } from "@/db/queries/list-season-trials";
import { addDays, type Day } from "@/lib/words/day";
import type { Assessment, TrialState } from "@/lib/words/trial";
import type { House } from "./house";
import { todayAt } from "./today-at";
import { trialState } from "./trial-state";

export interface BedLine {
  id: string;
  name: string;
  widthMm: number;
  lengthMm: number;
  setting: string;
  walkingOrder: number;
  trialIds: string[];
}

export interface TrialLine {
  id: string;
  question: string;
  crop: string;
  state: TrialState;
  bedNames: string[];
  plantedOn: Day;
  /** The first assessment that is not past; null when none is left or the trial is closed. */
  nextAssessment: Assessment | null;
  /** Entries (checks apart) without a verdict, once the trial is closed or its ground is wanted back. */
  verdictsOwed: number;
}

export interface GardenView {
  garden: { name: string; timeZone: string; isDemo: boolean; latitude: number; longitude: number } | null;
  today: Day;
  beds: BedLine[];
  trials: TrialLine[];
}

/** A verdict that nobody gave in a year and more is asked for among the trials only. */
const owedDays = 400;

/** Earlier and later than any day that is kept. */
const everyDay = { from: "0000-01-01" as Day, until: "9999-12-31" as Day };

/**
 * The garden at a glance: its beds in walking order, its trials with the last planted first, what is due.
 *
 * @param which `open` leaves out the trials that are closed and decided, or closed long ago, of which there may be many
 */
export function gardenView(house: House, which: "all" | "open" = "all"): GardenView {
  const { database } = house;
  const today = todayAt(house);
  const garden = findGarden(database);
  const rows =
    which === "open"
      ? listOpenTrials(database, addDays(today, -owedDays), today)
      : listSeasonTrials(database, everyDay, today);
  const inBed = new Map<string, string[]>();
  for (const row of rows)
    for (const name of row.bedNames) inBed.set(name, [...(inBed.get(name) ?? []), row.id]);
  return {
    garden: garden && {
      name: garden.name,
      timeZone: garden.timeZone,
      isDemo: garden.isDemo,
      latitude: garden.latitude,
      longitude: garden.longitude,
    },
    today,
    beds: listBeds(database).map(({ gardenId: _, ...bed }) => ({
      ...bed,
      trialIds: inBed.get(bed.name) ?? [],
    })),
    trials: rows.map(({ id, question, crop, bedNames, plantedOn, clearBy, next, undecided, ...row }) => {
      const state = trialState({ plantedOn, ...row }, today);
      const over = state === "closed" || (clearBy !== null && clearBy <= today);
      return {
        id,
        question,
        crop,
        state,
        bedNames,
        plantedOn,
        nextAssessment: state === "closed" ? null : next,
        verdictsOwed: over ? undecided : 0,
      };
    }),
  };
}
