import { findFirstFact } from "@/db/queries/find-first-fact";
import { findTrial } from "@/db/queries/find-trial";
import { listAmendments } from "@/db/queries/list-amendments";
import { listAssessments } from "@/db/queries/list-assessments";
import { listCoverPlacings } from "@/db/queries/list-cover-placings";
import { listEntries } from "@/db/queries/list-entries";
import { listPlots } from "@/db/queries/list-plots";
import { listRules } from "@/db/queries/list-rules";
import { listTrialBeds } from "@/db/queries/list-trial-beds";
import type { AmendmentKind } from "@/db/schema/trial";
import type { Day } from "@/lib/words/day";
import type { Instant } from "@/lib/words/instant";
import type { Assessment, AssessmentName, Design, Entry, Plot, Rule, TrialState } from "@/lib/words/trial";
import type { House } from "./house";
import { todayAt } from "./today-at";
import { trialState } from "./trial-state";

export interface AmendmentLine {
  id: string;
  /** Null when it concerns the whole trial. */
  plotId: string | null;
  kind: AmendmentKind;
  fromOn: Day;
  reason: string;
  by: string;
  madeAt: Instant;
}

export interface TrialView {
  id: string;
  question: string;
  purpose: string;
  crop: string;
  state: TrialState;
  design: Design;
  seed: number;
  blocks: number;
  plantsPerPlot: number;
  betweenPlantsMm: number;
  betweenRowsMm: number;
  sownOn: Day;
  plantedOn: Day;
  closedOn: Day | null;
  today: Day;
  beds: { id: string; name: string; widthMm: number; lengthMm: number }[];
  /** Outermost first; empty is open ground. */
  covers: { name: string; kind: string; fromOn: Day; untilOn: Day | null }[];
  entries: (Entry & { packetClaim: string | null })[];
  plots: Plot[];
  assessments: Assessment[];
  decidingAssessment: AssessmentName;
  pickingRule: string;
  clearBy: Day | null;
  fallbackOn: Day | null;
  /** The rule in force: the last version. */
  rule: Rule | null;
  rules: Rule[];
  amendments: AmendmentLine[];
  /** The day of the first fact; null while the layout may still be changed. */
  firstObservationOn: Day | null;
}

/** One trial as it was planned, dealt and amended, without its observations. Null when there is no such trial. */
export function trialView(house: House, trialId: string): TrialView | null {
  const { database } = house;
  const trial = findTrial(database, trialId);
  if (!trial) return null;
  const today = todayAt(house);
  const { cropId: _, hasObservations: __, madeAt: ___, ...kept } = trial;
  const covers = new Map(
    listCoverPlacings(database, trialId).map(({ name, kind, layer, fromOn, untilOn }) => [
      `${layer} ${name} ${fromOn}`,
      { name, kind, fromOn, untilOn },
    ]),
  );
  const rules = listRules(database, trialId).map(({ trialId: _trial, ...rule }) => rule);
  return {
    ...kept,
    state: trialState(trial, today),
    today,
    beds: listTrialBeds(database, trialId).map(({ trialId: _trial, ...bed }) => bed),
    covers: [...covers.values()],
    entries: listEntries(database, trialId).map(({ trialId: _trial, ...entry }) => entry),
    plots: listPlots(database, trialId).map(({ trialId: _trial, mainPlot: _main, ...plot }) => plot),
    assessments: listAssessments(database, trialId).map(({ name, dueOn }) => ({ name, dueOn })),
    rule: rules.at(-1) ?? null,
    rules,
    amendments: listAmendments(database, trialId).map(({ trialId: _trial, ...amendment }) => amendment),
    firstObservationOn: findFirstFact(database, trialId)?.seenOn ?? null,
  };
}
