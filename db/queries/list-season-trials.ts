import type { Day } from "@/lib/words/day";
import type { Assessment, VerdictChoice } from "@/lib/words/trial";
import type { Database } from "../open";
import { prepareOnce } from "../prepare-once";

/** How many entries (checks apart) of a trial nobody has given a verdict on. */
const undecided = `(SELECT count(*) FROM entry WHERE entry.trial_id = trial.id AND entry.role = 'entry'
  AND NOT EXISTS (SELECT 1 FROM verdict WHERE verdict.trial_id = trial.id AND verdict.entry_id = entry.id))`;

export interface TrialDates {
  id: string;
  plantedOn: Day;
  closedOn: Day | null;
  clearBy: Day | null;
  undecided: number;
}

/** When each trial was, and how much of it is undecided; the last planted first. */
export function listTrialDates(database: Database): TrialDates[] {
  return dates(database).all();
}

const dates = prepareOnce((database) =>
  database.$client.prepare<[], TrialDates>(
    `SELECT id, planted_on AS plantedOn, closed_on AS closedOn, clear_by AS clearBy, ${undecided} AS undecided
       FROM trial ORDER BY planted_on DESC, made_at DESC`,
  ),
);

export interface SeasonTrialRow extends TrialDates {
  question: string;
  crop: string;
  hasObservations: boolean;
  bedNames: string[];
  /** The first assessment that is not past. */
  next: Assessment | null;
  /** By variety in entry order, the last verdict given. */
  verdicts: { variety: string; choice: VerdictChoice }[];
}

type StoredRow = Omit<SeasonTrialRow, "hasObservations" | "bedNames" | "next" | "verdicts"> & {
  hasObservations: number;
  bedNames: string;
  next: string | null;
  verdicts: string;
};

/** The trials planted from one day to another, both included, the last planted first, each whole in one row. */
export function listSeasonTrials(
  database: Database,
  { from, until }: { from: Day; until: Day },
  today: Day,
): SeasonTrialRow[] {
  return seasonTrials(database).all(today, from, until).map(wholeRow);
}

/** The trials that are not closed, and those closed since some day that a verdict is still owed on; otherwise the same. */
export function listOpenTrials(database: Database, closedSince: Day, today: Day): SeasonTrialRow[] {
  return openTrials(database).all(today, closedSince).map(wholeRow);
}

function wholeRow({ hasObservations, bedNames, next, verdicts, ...row }: StoredRow): SeasonTrialRow {
  return {
    ...row,
    hasObservations: hasObservations === 1,
    bedNames: JSON.parse(bedNames),
    next: next === null ? null : JSON.parse(next),
    verdicts: JSON.parse(verdicts),
  };
}

const whole = `SELECT trial.id, trial.question, crop.name AS crop, trial.planted_on AS plantedOn,
    trial.closed_on AS closedOn, trial.clear_by AS clearBy, ${undecided} AS undecided,
    EXISTS (SELECT 1 FROM observation WHERE observation.trial_id = trial.id) AS hasObservations,
    (SELECT json_group_array(name) FROM
      (SELECT bed.name FROM trial_bed JOIN bed ON bed.id = trial_bed.bed_id
        WHERE trial_bed.trial_id = trial.id ORDER BY trial_bed.position)) AS bedNames,
    (SELECT json_object('name', name, 'dueOn', due_on) FROM assessment
      WHERE assessment.trial_id = trial.id AND due_on >= ? ORDER BY due_on LIMIT 1) AS next,
    (SELECT json_group_array(json_object('variety', name, 'choice', choice)) FROM
      (SELECT variety.name, (SELECT choice FROM verdict
          WHERE verdict.trial_id = trial.id AND verdict.entry_id = entry.id
          ORDER BY decided_at DESC, verdict.id DESC LIMIT 1) AS choice
        FROM entry JOIN variety ON variety.id = entry.variety_id
        WHERE entry.trial_id = trial.id ORDER BY entry.position)
      WHERE choice IS NOT NULL) AS verdicts
  FROM trial JOIN crop ON crop.id = trial.crop_id`;
const lastPlantedFirst = "ORDER BY trial.planted_on DESC, trial.made_at DESC";

const seasonTrials = prepareOnce((database) =>
  database.$client.prepare<[Day, Day, Day], StoredRow>(
    `${whole} WHERE trial.planted_on BETWEEN ? AND ? ${lastPlantedFirst}`,
  ),
);

const openTrials = prepareOnce((database) =>
  database.$client.prepare<[Day, Day], StoredRow>(
    `${whole} WHERE trial.closed_on IS NULL OR (trial.closed_on >= ? AND ${undecided} > 0) ${lastPlantedFirst}`,
  ),
);
