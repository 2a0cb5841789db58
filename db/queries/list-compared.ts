import type { Day } from "@/lib/words/day";
import type { Database } from "../open";
import { prepareOnce } from "../prepare-once";

export interface ComparedRow {
  trialId: string;
  /** Null where the level is a sowing, or no cover. */
  coverKind: string | null;
  /** Null where the level is a cover, or none. */
  sownOn: Day | null;
}

const compared = prepareOnce((database) =>
  database.$client.prepare<[], ComparedRow>(
    `SELECT main_level.trial_id AS trialId, cover.kind AS coverKind, main_level.sown_on AS sownOn
       FROM main_level LEFT JOIN cover ON cover.id = main_level.cover_id
      WHERE main_level.factor <> 'companion'
      ORDER BY main_level.trial_id, main_level.position`,
  ),
);

/** The covers and sowings that every trial deals to its main plots, in its plan's order; most trials deal none. */
export function listCompared(database: Database): ComparedRow[] {
  return compared(database).all();
}
