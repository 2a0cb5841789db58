import type { Day } from "@/lib/words/day";
import type { Database } from "../open";
import { prepareOnce } from "../prepare-once";

export interface TrialInBedRow {
  bedId: string;
  id: string;
  question: string;
  crop: string;
  plantedOn: Day;
  closedOn: Day | null;
  clearBy: Day | null;
  /** What stood over the bed for it, outermost first. */
  covers: { name: string; kind: string; fromOn: Day; untilOn: Day | null }[];
}

type StoredRow = Omit<TrialInBedRow, "covers"> & { covers: string };

const latest = prepareOnce((database) =>
  database.$client.prepare<[number], StoredRow>(
    `SELECT bedId, trial.id, trial.question, crop.name AS crop, trial.planted_on AS plantedOn,
        trial.closed_on AS closedOn, trial.clear_by AS clearBy,
        (SELECT json_group_array(json_object('name', name, 'kind', kind, 'fromOn', from_on, 'untilOn', until_on)) FROM
          (SELECT cover.name, cover.kind, from_on, until_on FROM cover_placing JOIN cover ON cover.id = cover_id
            WHERE cover_placing.trial_id = trial.id AND cover_placing.bed_id = bedId ORDER BY layer, from_on)) AS covers
       FROM (SELECT trial_bed.bed_id AS bedId, trial.id AS trialId,
           row_number() OVER (PARTITION BY trial_bed.bed_id ORDER BY trial.planted_on DESC, trial.made_at DESC) AS place
         FROM trial_bed JOIN trial ON trial.id = trial_bed.trial_id)
       JOIN trial ON trial.id = trialId JOIN crop ON crop.id = trial.crop_id
      WHERE place <= ? ORDER BY bedId, place`,
  ),
);

const counts = prepareOnce((database) =>
  database.$client.prepare<[], { bedId: string; trials: number }>(
    "SELECT bed_id AS bedId, count(*) AS trials FROM trial_bed GROUP BY bed_id",
  ),
);

/** In each bed, so many of the trials planted last, the last first. */
export function listLatestInBeds(database: Database, inEach: number): TrialInBedRow[] {
  return latest(database)
    .all(inEach)
    .map((row) => ({ ...row, covers: JSON.parse(row.covers) }));
}

/** How many trials each bed has held; one that held none is left out. */
export function countTrialsInBeds(database: Database): { bedId: string; trials: number }[] {
  return counts(database).all();
}
