import type { Database } from "@/db/open";
import { getCohort } from "@/db/queries/get-cohort";
import { listTiedFacts } from "@/db/queries/list-tied-facts";
import type { StandRow } from "@/db/queries/put-stand";
import { foldCohort } from "@/lib/journal/fold-cohort";

/** What a cohort's facts say of it now, by the same pure fold as on the phone; nothing is written. */
export function refoldCohort(database: Database, cohortId: string): StandRow {
  const cohort = getCohort(database, cohortId);
  const facts = listTiedFacts(database, { cohortId });
  const fold = foldCohort(cohort, facts);
  return {
    cohortId,
    standing: fold.standing,
    lost: fold.lost,
    removed: fold.removed,
    unsettled: fold.unsettled,
    lastSeenOn: fold.lastSeenOn,
  };
}
