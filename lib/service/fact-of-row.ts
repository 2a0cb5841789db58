import type { FactRow } from "@/db/queries/fact-rows";
import type { Observation } from "@/lib/words/observation";

/** A fact as it was recorded, without what the home added on receipt. */
export function factOfRow(row: FactRow): Observation {
  const {
    seq: _seq,
    trialId: _trial,
    cohortId: _cohort,
    receivedAt: _received,
    clockSkewS,
    picture,
    ...fact
  } = row;
  return { ...fact, ...(clockSkewS != null && { clockSkewS }), ...(picture != null && { picture }) };
}
