import type { Database } from "../open";

/** The names of the beds that hold a trial which is not closed, in walking order. */
export function listBedsInUse(database: Database): string[] {
  return database.$client
    .prepare<[], string>(
      `SELECT name FROM bed WHERE id IN (SELECT trial_bed.bed_id FROM trial JOIN trial_bed ON trial_bed.trial_id = trial.id
        WHERE trial.closed_on IS NULL) ORDER BY walking_order, id`,
    )
    .pluck()
    .all();
}
