import type { Database } from "../open";
import { prepareOnce } from "../prepare-once";

const stamps = prepareOnce((database) =>
  database.$client.prepare<[], { id: string; stamp: string }>(
    `SELECT trial.id AS id, json_array(
         trial.question, trial.purpose, trial.sown_on, trial.planted_on, trial.closed_on, trial.clear_by,
         trial.deciding_assessment, trial.design, trial.seed,
         (SELECT max(seq) FROM observation WHERE observation.trial_id = trial.id),
         (SELECT max(bed_observation.seq) FROM bed_observation
            JOIN trial_bed ON trial_bed.bed_id = bed_observation.bed_id WHERE trial_bed.trial_id = trial.id),
         (SELECT count(*) FROM amendment WHERE amendment.trial_id = trial.id),
         (SELECT count(*) FROM rule WHERE rule.trial_id = trial.id),
         (SELECT count(*) FROM plot WHERE plot.trial_id = trial.id),
         (SELECT count(*) FROM cover_placing WHERE cover_placing.trial_id = trial.id),
         (SELECT group_concat(name || due_on) FROM assessment WHERE assessment.trial_id = trial.id),
         (SELECT group_concat(variety.name || entry.role || entry.position)
            FROM entry JOIN variety ON variety.id = entry.variety_id WHERE entry.trial_id = trial.id)
       ) AS stamp FROM trial`,
  ),
);

const changes = prepareOnce((database) =>
  database.$client.prepare<[], { own: number }>("SELECT total_changes() AS own"),
);

/** A number that is another after any change of the file, by this program or another one. */
export function changeMark(database: Database): string {
  const others = database.$client.pragma("data_version", { simple: true });
  return `${others} ${changes(database).get()?.own}`;
}

/** For each trial a text that is another once anything changed that its findings rest on. */
export function listTrialStamps(database: Database): Map<string, string> {
  return new Map(
    stamps(database)
      .all()
      .map(({ id, stamp }) => [id, stamp]),
  );
}
