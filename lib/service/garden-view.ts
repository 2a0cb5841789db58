import { findGarden } from "@/db/queries/find-garden";
import { listAssessments } from "@/db/queries/list-assessments";
import { listBeds } from "@/db/queries/list-beds";
import { listEntries } from "@/db/queries/list-entries";
import { listTrialBeds } from "@/db/queries/list-trial-beds";
import { listTrials } from "@/db/queries/list-trials";
import { listVerdicts } from "@/db/queries/list-verdicts";
import type { Day } from "@/lib/words/day";
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

/** The garden at a glance: its beds in walking order, its trials with the last planted first, what is due. */
export function gardenView(house: House): GardenView {
  const { database } = house;
  const today = todayAt(house);
  const garden = findGarden(database);
  const trialBeds = listTrialBeds(database);
  const assessments = listAssessments(database);
  const entries = listEntries(database);
  const judged = new Set(listVerdicts(database).map((verdict) => verdict.entryId));
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
      trialIds: trialBeds.filter((row) => row.id === bed.id).map((row) => row.trialId),
    })),
    trials: listTrials(database).map((trial) => {
      const state = trialState(trial, today);
      const due = assessments.find((row) => row.trialId === trial.id && row.dueOn >= today);
      const over = state === "closed" || (trial.clearBy !== null && trial.clearBy <= today);
      const owed = entries.filter(
        (entry) => entry.trialId === trial.id && entry.role === "entry" && !judged.has(entry.id),
      );
      return {
        id: trial.id,
        question: trial.question,
        crop: trial.crop,
        state,
        bedNames: trialBeds.filter((row) => row.trialId === trial.id).map((row) => row.name),
        plantedOn: trial.plantedOn,
        nextAssessment: due && state !== "closed" ? { name: due.name, dueOn: due.dueOn } : null,
        verdictsOwed: over ? owed.length : 0,
      };
    }),
  };
}
