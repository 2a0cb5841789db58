import { findFirstFact } from "@/db/queries/find-first-fact";
import { findTrial } from "@/db/queries/find-trial";
import { listAmendments } from "@/db/queries/list-amendments";
import { listAssessments } from "@/db/queries/list-assessments";
import { listCompanions } from "@/db/queries/list-companions";
import { listCoverPlacings } from "@/db/queries/list-cover-placings";
import { listEntries } from "@/db/queries/list-entries";
import { listMainLevels } from "@/db/queries/list-main-levels";
import { listPlots } from "@/db/queries/list-plots";
import { listRules } from "@/db/queries/list-rules";
import { listTakenUp } from "@/db/queries/list-taken-up";
import { listTrialBeds } from "@/db/queries/list-trial-beds";
import type { AmendmentKind } from "@/db/schema/trial";
import type { Day } from "@/lib/words/day";
import type { Instant } from "@/lib/words/instant";
import type {
  Assessment,
  AssessmentName,
  Companion,
  Design,
  Entry,
  Gradient,
  MainFactor,
  PathSide,
  Plot,
  Rule,
  TrialState,
} from "@/lib/words/trial";
import type { House } from "./house";
import { levelName } from "./level-words";
import { sameName } from "./same-name";
import { todayAt } from "./today-at";
import { trialState } from "./trial-state";
import { whileUnchanged } from "./while-unchanged";

export interface AmendmentLine {
  id: string;
  /** Null when it concerns the whole trial. */
  plotId: string | null;
  kind: AmendmentKind;
  fromOn: Day;
  reason: string;
  by: string;
  madeAt: Instant;
  /** What stood in the plot instead of what was dealt to it; null but for another variety. */
  plantedVariety: string | null;
}

/** A cover, a sowing date or a companion that whole main plots were dealt. */
export interface LevelView {
  id: string;
  factor: MainFactor;
  /** None is open ground. */
  cover: { name: string; kind: string } | null;
  /** What stands between the plants; none is the crop alone, where companions are compared. */
  companion: Companion | null;
  fromOn: Day | null;
  untilOn: Day | null;
  sownOn: Day | null;
  /** What it is called on the layout: `fleece`, `open ground`, `sown Thu 14 Aug`, `with onions between`. */
  words: string;
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
  beds: {
    id: string;
    name: string;
    widthMm: number;
    lengthMm: number;
    /** The size of a pot, where each plot is one. */
    potMm: number | null;
    takenUp: { fromMm: number; toMm: number }[];
  }[];
  /** Empty but in a split plot. */
  levels: LevelView[];
  /** Those in every plot; what is compared is among the levels. */
  companions: Companion[];
  plotsPerBlock: number | null;
  gradient: Gradient | null;
  guardRows: number;
  pathSide: PathSide;
  /** Outermost first; empty is open ground. */
  covers: { name: string; kind: string; fromOn: Day; untilOn: Day | null }[];
  entries: (Entry & { packetClaim: string | null })[];
  /** Each with what its main plot was dealt, in words; null but in a split plot. */
  plots: (Plot & { under: string | null })[];
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
  const today = todayAt(house);
  return whileUnchanged(house, ["trial", trialId, today], () => viewNow(house, trialId, today));
}

function viewNow({ database }: House, trialId: string, today: Day): TrialView | null {
  const trial = findTrial(database, trialId);
  if (!trial) return null;
  const { cropId: _, hasObservations: __, madeAt: ___, ...kept } = trial;
  const covers = new Map(
    listCoverPlacings(database, trialId).map(({ name, kind, layer, fromOn, untilOn }) => [
      `${layer} ${name} ${fromOn}`,
      { name, kind, fromOn, untilOn },
    ]),
  );
  const companions = listCompanions(database, trialId).map(({ trialId: _trial, ...companion }) => companion);
  const levels = listMainLevels(database, trialId).map(
    ({ id, factor, coverName, coverKind, fromOn, untilOn, sownOn, companion }): LevelView => ({
      id,
      factor,
      companion: companions.find(({ name }) => companion !== null && sameName(name, companion)) ?? null,
      cover: coverName !== null && coverKind !== null ? { name: coverName, kind: coverKind } : null,
      fromOn,
      untilOn,
      sownOn,
      words: levelName({ factor, coverName, sownOn, companion }),
    }),
  );
  const takenUp = listTakenUp(database, trialId);
  const rules = listRules(database, trialId).map(({ trialId: _trial, ...rule }) => rule);
  return {
    ...kept,
    state: trialState(trial, today),
    today,
    guardRows: trial.guardRows ?? 0,
    pathSide: trial.pathSide ?? "left",
    levels,
    companions: companions.filter((one) => !levels.some((level) => level.companion === one)),
    beds: listTrialBeds(database, trialId).map(({ trialId: _trial, ...bed }) => ({
      ...bed,
      takenUp: takenUp.filter((row) => row.bedId === bed.id).map(({ fromMm, toMm }) => ({ fromMm, toMm })),
    })),
    covers: [...covers.values()],
    entries: listEntries(database, trialId).map(({ trialId: _trial, ...entry }) => entry),
    plots: listPlots(database, trialId).map(
      ({ trialId: _trial, mainPlot: _main, replicate: _replicate, mainLevelId, ...plot }) => ({
        ...plot,
        under: levels.find((level) => level.id === mainLevelId)?.words ?? null,
      }),
    ),
    assessments: listAssessments(database, trialId).map(({ name, dueOn }) => ({ name, dueOn })),
    rule: rules.at(-1) ?? null,
    rules,
    amendments: listAmendments(database, trialId).map(
      ({ trialId: _trial, plantedEntryId: _entry, ...amendment }) => amendment,
    ),
    firstObservationOn: findFirstFact(database, trialId)?.seenOn ?? null,
  };
}
