import { listEntries } from "@/db/queries/list-entries";
import { listVerdicts } from "@/db/queries/list-verdicts";
import type { Proposal, SurvivalOfVariety, YieldMean } from "@/lib/analysis/finding";
import type { Day } from "@/lib/words/day";
import type { Instant } from "@/lib/words/instant";
import type { VerdictChoice } from "@/lib/words/trial";
import type { House } from "./house";

/** What a verdict is for: the same variety may be dropped for winter and kept for summer. */
export interface Use {
  crop: string;
  variety: string;
  /** Names of the covers it stood under; empty is open ground. */
  covers: string[];
  sownOn: Day;
  plantedOn: Day;
  purpose: string;
}

/** The figures that lay before the person who decided, as they were that day. */
export interface VerdictFigures {
  asOf: Day | null;
  ruleVersion: number | null;
  survival: SurvivalOfVariety | null;
  yield: (YieldMean & { per: string; unit: string }) | null;
  proposal: Proposal | null;
}

export interface VerdictLine {
  id: string;
  entryId: string;
  variety: string;
  use: Use;
  proposal: VerdictChoice | null;
  figures: VerdictFigures;
  choice: VerdictChoice;
  reason: string;
  by: string;
  decidedOn: Day;
  decidedAt: Instant;
  /** False for one that a later verdict on the same entry took the place of; it stays to be read. */
  isLatest: boolean;
}

/** The verdicts given in a trial, in the order in which they were given. */
export function trialVerdicts(house: House, trialId: string): VerdictLine[] {
  const varieties = new Map(listEntries(house.database, trialId).map((entry) => [entry.id, entry.variety]));
  const rows = listVerdicts(house.database, trialId);
  const latest = new Map(rows.map((row) => [row.entryId, row.id]));
  return rows.map(({ trialId: _, use, figures, ...row }) => ({
    ...row,
    variety: varieties.get(row.entryId) ?? "",
    use: use as Use,
    figures: figures as VerdictFigures,
    isLatest: latest.get(row.entryId) === row.id,
  }));
}
