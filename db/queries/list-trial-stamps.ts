import { type Database, undoneActs } from "../open";
import { prepareOnce } from "../prepare-once";

const frames = prepareOnce((database) =>
  database.$client.prepare<[], { id: string; frame: string }>(
    `WITH told AS MATERIALIZED (SELECT bed_id, max(seq) AS seq FROM bed_observation GROUP BY bed_id)
     SELECT trial.id AS id, json_array(
         trial.question, trial.purpose, trial.sown_on, trial.planted_on, trial.closed_on, trial.clear_by,
         trial.deciding_assessment, trial.design, trial.seed,
         (SELECT max(told.seq) FROM trial_bed JOIN told ON told.bed_id = trial_bed.bed_id
            WHERE trial_bed.trial_id = trial.id),
         (SELECT count(*) FROM amendment WHERE amendment.trial_id = trial.id),
         (SELECT count(*) FROM rule WHERE rule.trial_id = trial.id),
         (SELECT count(*) FROM plot WHERE plot.trial_id = trial.id),
         (SELECT count(*) FROM cover_placing WHERE cover_placing.trial_id = trial.id),
         (SELECT group_concat(name || due_on) FROM assessment WHERE assessment.trial_id = trial.id),
         (SELECT group_concat(variety.name || entry.role || entry.position)
            FROM entry JOIN variety ON variety.id = entry.variety_id WHERE entry.trial_id = trial.id)
       ) AS frame FROM trial`,
  ),
);

const since = prepareOnce((database) =>
  database.$client.prepare<{ seen: number }, { trialId: string; last: number }>(
    `SELECT trial_id AS trialId, max(seq) AS last FROM observation WHERE seq > :seen GROUP BY trial_id
     UNION ALL
     SELECT earlier.trial_id, max(later.seq) FROM observation AS later
       JOIN observation AS earlier ON earlier.id = later.replaces
      WHERE later.replaces IS NOT NULL AND later.seq > :seen AND earlier.trial_id <> later.trial_id
      GROUP BY earlier.trial_id`,
  ),
);

/** The last fact of each trial, and of other trials that corrects one of it. Facts are only added: none is read twice. */
const lastFacts = prepareOnce(() => ({ seen: 0, of: new Map<string, number>() }));

const changes = prepareOnce((database) =>
  database.$client.prepare<[], { own: number }>("SELECT total_changes() AS own"),
);

const othersChanges = prepareOnce((database) =>
  database.$client.prepare<[], number>("PRAGMA data_version").pluck(),
);

/** A text that is another after any change of the file, by this program or another one, and after one that was undone. */
export function changeMark(database: Database): string {
  return `${othersChanges(database).get()} ${changes(database).get()?.own} ${undoneActs(database)}`;
}

/** For each trial a text that is another once anything changed that its findings rest on. */
export function listTrialStamps(database: Database): Map<string, string> {
  const facts = lastFacts(database);
  for (const { trialId, last } of since(database).all({ seen: facts.seen })) {
    facts.of.set(trialId, Math.max(last, facts.of.get(trialId) ?? 0));
  }
  facts.seen = Math.max(0, ...facts.of.values());
  return new Map(
    frames(database)
      .all()
      .map(({ id, frame }) => [id, `${frame} ${facts.of.get(id) ?? 0}`]),
  );
}
