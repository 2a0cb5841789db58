import { fillingCohort } from "@/lib/journal/filling-cohort";
import type { TrialView } from "@/lib/service/trial-view";
import { type RandomStream, randomStream } from "@/lib/statistics/random-stream";
import { addDays, type Day, daysBetween } from "@/lib/words/day";
import type { HarvestPart } from "@/lib/words/observation";
import { firstFlowerStem } from "@/lib/words/trait";
import { type Gardener, grouped, type Notebook } from "./notebook";
import { type Fate, type Pick, simulatePlot, type TrialTruth } from "./simulate";

/** One round of looking. A bed named in `couldNotLook` was shut, snowed in or frozen. */
interface Walk {
  day: Day;
  by: Gardener;
  couldNotLook?: { bed: string; why: string };
}

/** A season as it was walked, weighed and scored: what the simulation does not decide. */
export interface Season {
  walks: Walk[];
  picks: Pick[];
  part: HarvestPart;
  weighedBy: Gardener;
  /** Plants put in gaps: before the *took* assessment they complete the plot, after it they are a cohort. */
  fillings: { code: string; day: Day; plants: number }[];
  /** A plot that stood but was not picked on a trial pick, with the reason. */
  notPicked: { code: string; day: Day; why: string }[];
  /** The plot that a blown-off cover drowned. */
  drowned: { code: string; day: Day; note: string } | null;
  /** A stand counted one short, put right some days later. */
  miscounted: { code: string; day: Day; rightedOn: Day; note: string } | null;
  /** A last count that is one above what the record knows of, still to be settled. */
  unsettled: { code: string; day: Day } | null;
  /** Plants taken out by hand that were none of the variety. */
  notTrue: { code: string; day: Day; note: string } | null;
  doubtful: { code: string; day: Day; note: string } | null;
  /** Scores 0 to 9 of a trait on a day: the variety's own level, give or take. */
  scores: { day: Day; trait: string; of: Record<string, number> }[];
  /** When the first flower stems show in each variety; half of its plants have one two weeks later. */
  stemsFrom: Record<string, Day>;
  endedOn: Day | null;
  /** Remarks about a whole bed, kept as a note on its first plot. */
  remarks: { bed: string; day: Day; by: Gardener; note: string }[];
}

/** Plants of one plot set out on one day. */
interface Planted {
  setOutOn: Day;
  fates: Fate[];
  grams: number[];
}

/** What the record counts together: the planting with the plants that completed it, or a later filling. */
interface CohortState {
  cohortOn: Day | null;
  planted: Planted[];
  takenOut: Set<Fate>;
}

interface PlotState {
  plot: TrialView["plots"][number];
  variety: string;
  bed: string;
  cohorts: CohortState[];
  lookedOn: Day;
}

const unexplained = 0.12;
const leavesNoSign = 0.12;

function setOut(trial: TrialView, truth: TrialTruth, season: Season, seed: number): PlotState[] {
  const varietyOf = new Map(trial.entries.map((entry) => [entry.id, entry.variety]));
  const bedOf = new Map(trial.beds.map((bed) => [bed.id, bed.name]));
  const tookOn = trial.assessments.find((assessment) => assessment.name === "took")?.dueOn ?? null;
  return trial.plots.map((plot, index) => {
    // Each planting has a stream of its own, so that filling a gap changes nothing elsewhere.
    let plantings = 0;
    const variety = varietyOf.get(plot.entryId) as string;
    const planting = (setOutOn: Day, plants: number): Planted => {
      const block = plot.block ?? 1;
      const stream = randomStream(seed * 10_000 + index * 10 + plantings);
      plantings += 1;
      const fate = simulatePlot(
        truth,
        { variety, block, under: plot.under, plants, plantedOn: setOutOn, picks: season.picks },
        stream,
      );
      return { setOutOn, fates: fate.plants, grams: fate.grams };
    };
    const cohorts: CohortState[] = [
      { cohortOn: null, planted: [planting(trial.plantedOn, plot.plants)], takenOut: new Set() },
    ];
    for (const { day, plants } of season.fillings.filter((filling) => filling.code === plot.code)) {
      const cohortOn = fillingCohort(trial.plantedOn, tookOn, day);
      const filled = planting(day, plants);
      if (cohortOn === null) cohorts[0].planted.push(filled);
      else cohorts.push({ cohortOn, planted: [filled], takenOut: new Set() });
    }
    const state = {
      plot,
      variety,
      bed: bedOf.get(plot.bedId) as string,
      cohorts,
      lookedOn: trial.plantedOn,
    };
    if (season.drowned?.code === plot.code) drown(state, season.drowned.day);
    return state;
  });
}

function drown(state: PlotState, day: Day): void {
  for (const planted of state.cohorts.flatMap((cohort) => cohort.planted))
    planted.fates = planted.fates.map((fate) =>
      fate.goneOn !== null && fate.goneOn < day ? fate : { goneOn: day, cause: "wind", comesAgainOn: null },
    );
}

function stands({ goneOn, comesAgainOn }: Fate, day: Day): boolean {
  return goneOn === null || goneOn > day || (comesAgainOn !== null && comesAgainOn <= day);
}

/** The plants that have been set out by a day and not been taken out by hand. */
function present(cohort: CohortState, day: Day): Fate[] {
  return cohort.planted
    .filter(({ setOutOn }) => setOutOn <= day)
    .flatMap(({ fates }) => fates)
    .filter((fate) => !cohort.takenOut.has(fate));
}

function standing(cohort: CohortState, day: Day): number {
  return present(cohort, day).filter((fate) => stands(fate, day)).length;
}

/** Writes down one season of a trial, walk by walk, as the gardeners saw it. */
export function recordSeason(
  book: Notebook,
  trial: TrialView,
  truth: TrialTruth,
  season: Season,
  seed: number,
  newId: () => string,
): void {
  const stream = randomStream(seed);
  const plots = setOut(trial, truth, season, seed);
  const at = (code: string) => plots.find((state) => state.plot.code === code) as PlotState;

  for (const { code, day, plants } of season.fillings) {
    const state = at(code);
    const cohort = state.cohorts.find((one) => one.planted.some(({ setOutOn }) => setOutOn === day));
    book.write("Ina", day, {
      plotId: state.plot.id,
      kind: "added",
      cohortOn: cohort?.cohortOn ?? null,
      amount: plants,
      unit: "plants",
      note: "gap filled from the spares of the same sowing",
    });
  }
  for (const walk of season.walks) {
    const walkaboutId = newId();
    for (const state of plots) look(book, state, walk, walkaboutId, season, stream);
  }
  season.picks.forEach(({ day }, pick) => {
    for (const state of plots) weigh(book, state, day, pick, season);
  });
  for (const { day, trait, of } of season.scores)
    for (const state of plots)
      if (state.cohorts.some((cohort) => standing(cohort, day) > 0))
        book.write("Morwen", day, {
          plotId: state.plot.id,
          kind: "score",
          trait,
          unit: "score",
          amount: Math.min(9, Math.max(0, of[state.variety] + stream.whole(3) - 1)),
        });
  for (const { bed, day, by, note } of season.remarks) {
    const first = plots.find((state) => state.bed === bed) as PlotState;
    book.write(by, day, { plotId: first.plot.id, kind: "note", note });
  }
  if (season.endedOn !== null)
    for (const { plot } of plots) book.write("Joss", season.endedOn, { plotId: plot.id, kind: "ended" });
}

function look(
  book: Notebook,
  state: PlotState,
  walk: Walk,
  walkaboutId: string,
  season: Season,
  stream: RandomStream,
): void {
  const { day, by } = walk;
  const { plot } = state;
  const say = (saying: Parameters<Notebook["write"]>[2], recordedOn?: Day) =>
    book.write(by, day, { walkaboutId, ...saying }, recordedOn);
  if (walk.couldNotLook?.bed === state.bed) {
    say({ plotId: plot.id, kind: "not-seen", note: walk.couldNotLook.why });
    return;
  }
  const since = state.lookedOn;
  const isNew = (on: Day | null) => on !== null && on > since && on <= day;
  for (const cohort of state.cohorts) {
    const there = present(cohort, day);
    if (there.length === 0) continue;
    const of = { plotId: plot.id, cohortOn: cohort.cohortOn, unit: "plants" as const };
    if (season.notTrue?.code === plot.code && season.notTrue.day === day && cohort.cohortOn === null) {
      const rogue = there.find((fate) => fate.goneOn === null);
      if (rogue) {
        cohort.takenOut.add(rogue);
        say({ ...of, kind: "removed", cause: "not-true", amount: 1, note: season.notTrue.note });
      }
    }
    const gone = grouped(
      there.filter((fate) => isNew(fate.goneOn) && !stands(fate, day)),
      (fate) => fate.cause,
    );
    for (const [cause, fates] of gone) {
      const isDrowned = season.drowned?.code === plot.code && cause === "wind";
      if (!isDrowned && stream.uniform() < unexplained) continue;
      const seen = !isDrowned && stream.uniform() < leavesNoSign ? "no-sign" : cause;
      const note = isDrowned ? (season.drowned?.note ?? null) : null;
      say({ ...of, kind: "loss", cause: seen, amount: fates.length, note });
    }
    const again = there.filter((fate) => isNew(fate.comesAgainOn) && !isNew(fate.goneOn)).length;
    if (again > 0) say({ ...of, kind: "regrew", amount: again, note: "new leaves from the crown" });
    count(book, state, cohort, walk, walkaboutId, season);
  }
  const { doubtful } = season;
  if (doubtful?.code === plot.code && doubtful.day === day)
    say({ plotId: plot.id, kind: "doubtful", amount: 1, unit: "plants", note: doubtful.note });
  const stemsFrom = season.stemsFrom[state.variety];
  if (stemsFrom !== undefined && stemsFrom <= day) {
    const share = Math.min(1, 0.2 + daysBetween(stemsFrom, day) / 35);
    const amount = Math.round(share * standing(state.cohorts[0], day));
    say({ plotId: plot.id, kind: "count", trait: firstFlowerStem, amount, unit: "count" });
  }
  state.lookedOn = day;
}

/** *The rest stand*: the count that closes a plot, with the slips that real counts have. */
function count(
  book: Notebook,
  { plot }: PlotState,
  cohort: CohortState,
  { day, by }: Walk,
  walkaboutId: string,
  season: Season,
): void {
  const amount = standing(cohort, day);
  const of = {
    walkaboutId,
    plotId: plot.id,
    cohortOn: cohort.cohortOn,
    kind: "stand",
    unit: "plants",
  } as const;
  const isHere = (event: { code: string; day: Day } | null) =>
    cohort.cohortOn === null && event?.code === plot.code && event.day === day;
  const { miscounted, unsettled } = season;
  if (miscounted && isHere(miscounted)) {
    const wrong = book.write(by, day, { ...of, amount: amount - 1 });
    const righted = { ...of, amount, replaces: wrong.id, note: miscounted.note };
    book.write(by, day, righted, miscounted.rightedOn);
    return;
  }
  book.write(by, day, { ...of, amount: isHere(unsettled) ? amount + 1 : amount });
}

function weigh(book: Notebook, state: PlotState, day: Day, pick: number, season: Season): void {
  const { plot, cohorts } = state;
  if (season.drowned?.code === plot.code && season.drowned.day <= day) return;
  const skipped = season.notPicked.find((one) => one.code === plot.code && one.day === day);
  const grams = cohorts
    .flatMap((cohort) => cohort.planted)
    .filter(({ setOutOn }) => addDays(setOutOn, 30) <= day)
    .reduce((sum, planted) => sum + planted.grams[pick], 0);
  book.write(season.weighedBy, day, {
    plotId: plot.id,
    kind: "harvest",
    part: season.part,
    unit: "g",
    amount: skipped ? null : grams,
    note: skipped?.why ?? null,
  });
}
