import { findGarden } from "@/db/queries/find-garden";
import {
  listSeasonTrials,
  listTrialDates,
  type SeasonTrialRow,
  type TrialDates,
} from "@/db/queries/list-season-trials";
import type { Day } from "@/lib/words/day";
import { daysOfSeason, seasonOf } from "@/lib/words/season";
import type { TrialState } from "@/lib/words/trial";
import type { TrialAnswer } from "./answer-of";
import type { House } from "./house";
import { todayAt } from "./today-at";
import { keptTrialAnswer } from "./trial-answer";
import { trialState } from "./trial-state";

export type SeasonTrial = Pick<
  SeasonTrialRow,
  "id" | "question" | "crop" | "plantedOn" | "bedNames" | "verdicts"
> & {
  state: TrialState;
  /** Null when none is left or the trial is closed. */
  nextAssessment: SeasonTrialRow["next"];
  /** Entries without a verdict, once the trial is closed or its ground is wanted back. */
  verdictsOwed: number;
  /** What it says where that has been worked out; otherwise to be asked for. */
  answer: TrialAnswer | null;
};

export interface SeasonLine {
  /** From autumn to spring: `2026/27`. */
  season: string;
  trials: number;
  verdictsOwed: number;
  /** The season's trials, the last planted first; null where the season is folded. */
  shown: SeasonTrial[] | null;
}

/** Seasons are open from the newest on until so many trials are shown. */
const enoughShown = 20;

/** Every season, the newest first: the newest ones, and the one asked for, with their trials and what they say. */
export function seasonView(house: House, asked: string | null): SeasonLine[] {
  const { database } = house;
  const today = todayAt(house);
  const latitude = findGarden(database)?.latitude ?? 0;
  const seasons = new Map<string, TrialDates[]>();
  for (const trial of listTrialDates(database)) {
    const season = seasonOf(trial.plantedOn, latitude);
    seasons.set(season, [...(seasons.get(season) ?? []), trial]);
  }
  let shown = 0;
  return [...seasons].map(([season, trials]) => {
    const isOpen = shown < enoughShown || season === asked;
    if (isOpen && season !== asked) shown += trials.length;
    const days = isOpen ? daysOfSeason(season, latitude) : null;
    return {
      season,
      trials: trials.length,
      verdictsOwed: trials.reduce((sum, trial) => sum + owed(trial, today), 0),
      shown: days && listSeasonTrials(database, days, today).map((row) => trialOf(house, row, today)),
    };
  });
}

function owed({ closedOn, clearBy, undecided }: TrialDates, today: Day): number {
  return closedOn !== null || (clearBy !== null && clearBy <= today) ? undecided : 0;
}

function trialOf(house: House, row: SeasonTrialRow, today: Day): SeasonTrial {
  const { id, question, crop, plantedOn, bedNames, verdicts, next } = row;
  const state = trialState(row, today);
  return {
    id,
    question,
    crop,
    plantedOn,
    bedNames,
    verdicts,
    state,
    nextAssessment: state === "closed" ? null : next,
    verdictsOwed: owed(row, today),
    answer: keptTrialAnswer(house, id),
  };
}
