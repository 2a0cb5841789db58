import type { Database } from "../open";
import { prepareOnce } from "../prepare-once";

const last = prepareOnce((database) =>
  database.$client
    .prepare<{ trialId: string }, number | null>(
      `SELECT max(seq) FROM (
         SELECT max(seq) AS seq FROM observation WHERE trial_id = :trialId
         UNION ALL
         SELECT max(later.seq) FROM observation AS earlier JOIN observation AS later ON later.replaces = earlier.id
          WHERE earlier.trial_id = :trialId
       )`,
    )
    .pluck(),
);

/**
 * The place in the order of arrival of the last fact that says anything of a trial, a correction from elsewhere included;
 * 0 before there is one. Facts are only added: what was read of a trial holds for as long as this number does.
 */
export function findLastFact(database: Database, trialId: string): number {
  return last(database).get({ trialId }) ?? 0;
}
