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
import { whileUnchanged } from "./while-unchanged";

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
  const today = todayAt(house);
  const { latitude, seasons } = whileUnchanged(house, ["seasons", today], () => seasonsOf(house, today));
  let shown = 0;
  return seasons.map((line) => {
    const isOpen = shown < enoughShown || line.season === asked;
    if (isOpen && line.season !== asked) shown += line.trials;
    const days = isOpen ? daysOfSeason(line.season, latitude) : null;
    return {
      ...line,
      shown: days && listSeasonTrials(house.database, days, today).map((row) => trialOf(house, row, today)),
    };
  });
}

function seasonsOf({ database }: House, today: Day) {
  const latitude = findGarden(database)?.latitude ?? 0;
  const seasons = new Map<string, Omit<SeasonLine, "shown">>();
  for (const trial of listTrialDates(database)) {
    const season = seasonOf(trial.plantedOn, latitude);
    const line = seasons.get(season) ?? { season, trials: 0, verdictsOwed: 0 };
    seasons.set(season, {
      season,
      trials: line.trials + 1,
      verdictsOwed: line.verdictsOwed + owed(trial, today),
    });
  }
  return { latitude, seasons: [...seasons.values()] };
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
