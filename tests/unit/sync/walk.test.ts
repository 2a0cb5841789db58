import { expect, test } from "vitest";
import type { WalkAct } from "@/lib/sync/device/device-store";
import { cohortOfFilling, dueAssessment, traitsToScore } from "@/lib/sync/device/due-assessment";
import type { Draft } from "@/lib/sync/device/fact-draft";
import { plotMarks, remember } from "@/lib/sync/device/plot-marks";
import { type PlotView, plotViewer, plotViews } from "@/lib/sync/device/plot-view";
import { stampFacts } from "@/lib/sync/device/stamp-facts";
import {
  afterAct,
  allClosed,
  beforeLastAct,
  nextOpenBed,
  startWalk,
  withoutFacts,
} from "@/lib/sync/device/walk";
import {
  addedDraft,
  couldNotLookDrafts,
  doubtDrafts,
  endedDrafts,
  flowerStemDraft,
  loseDrafts,
  noteDraft,
  regrewDraft,
  removeDrafts,
  restStandDrafts,
  scoreDraft,
  setRightDrafts,
  stageDraft,
  standDraft,
  takeBackDrafts,
} from "@/lib/sync/device/walk-acts";
import type { FieldBed } from "@/lib/sync/field-pack";
import type { Day } from "@/lib/words/day";
import { growthStage } from "@/lib/words/growth-stage";
import { type Observation, observationMisfit, observationSchema } from "@/lib/words/observation";
import { sayObservation } from "@/lib/words/say-observation";
import { bed, homeFact, pack, plot, trial } from "./example-bed";
import { idOf, instantAt, plotFacts, walkDay } from "./facts";

const looking = { by: "Ivy", seenOn: walkDay, walkaboutId: idOf(7) };

/** A phone that records drafts one act after another and shows each plot as it then stands. */
function phone(beds: FieldBed[], homeFacts: Observation[] = []) {
  let row = { deviceId: idOf(999), nextSequence: 0 };
  const facts: Observation[] = [];
  const view = (plotId = "plot-1"): PlotView => {
    const found = plotViews(pack(beds, [...homeFacts, ...facts]), [], {}).get(plotId);
    if (!found) throw new Error(`no ${plotId}`);
    return found;
  };
  const record = (drafts: Draft[]): Observation[] => {
    const ids = drafts.map((_, index) => idOf(100 + row.nextSequence + index));
    const stamped = stampFacts({ drafts, ids, recordedAt: instantAt(row.nextSequence) }, row);
    row = stamped.row;
    const made = plotFacts(stamped.entries);
    for (const fact of made) {
      expect(observationSchema.safeParse(fact).success).toBe(true);
      expect(observationMisfit(fact)).toBeNull();
    }
    facts.push(...made);
    return made;
  };
  return { view, record, facts };
}

const threePlots = [bed("Long bed", [plot(1), plot(2), plot(3)])];
const views = (home: ReturnType<typeof phone>) => ["plot-1", "plot-2", "plot-3"].map((id) => home.view(id));

test("the rest stand writes what is left in every plot, after the losses of the round", () => {
  const home = phone(threePlots);
  home.record(loseDrafts(looking, home.view("plot-2"), [null, null], "slugs"));
  const stands = home.record(restStandDrafts(looking, views(home)));
  expect(stands.map((fact) => [fact.plotId, fact.kind, fact.amount])).toEqual([
    ["plot-1", "stand", 3],
    ["plot-2", "stand", 1],
    ["plot-3", "stand", 3],
  ]);
  expect(views(home).map((view) => view.standing)).toEqual([3, 1, 3]);
  expect(views(home).every((view) => view.questions.length === 0)).toBe(true);
});

test("closing a bed twice says nothing twice, but a loss found in between is counted", () => {
  const home = phone(threePlots);
  home.record(restStandDrafts(looking, views(home)));
  expect(restStandDrafts(looking, views(home))).toEqual([]);
  home.record(loseDrafts(looking, home.view("plot-3"), [null], "cold"));
  const again = home.record(restStandDrafts(looking, views(home)));
  expect(again.map((fact) => [fact.plotId, fact.amount])).toEqual([["plot-3", 2]]);
  expect(home.view("plot-3").questions).toEqual([]);
});

test("a plot that could not be looked at is never taken as standing", () => {
  const home = phone(threePlots);
  home.record(couldNotLookDrafts(looking, [home.view("plot-1")]));
  const stands = restStandDrafts(looking, views(home));
  expect(stands.map((draft) => draft.plotId)).toEqual(["plot-2", "plot-3"]);
  expect(home.view("plot-1").lastSeenOn).toBeNull();
});

test("could not look leaves alone the plots of which the round has said something", () => {
  const home = phone(threePlots);
  home.record(loseDrafts(looking, home.view("plot-2"), [null], "no-sign"));
  const unseen = home.record(couldNotLookDrafts(looking, views(home)));
  expect(unseen.map((fact) => [fact.plotId, fact.kind])).toEqual([
    ["plot-1", "not-seen"],
    ["plot-3", "not-seen"],
  ]);
});

test("the same loss noted by two people shows itself as a count above the ledger", () => {
  const theirs = homeFact(1, { seenOn: "2027-01-13" as Day, cause: "slugs" });
  const home = phone(threePlots, [theirs]);
  const unaware = phone(threePlots);
  unaware.record(loseDrafts(looking, unaware.view(), [null], "slugs"));
  const mine = unaware.record(restStandDrafts(looking, [unaware.view()]));
  home.facts.push(...unaware.facts);
  expect(mine[0].amount).toBe(2);
  expect(home.view().questions.map((question) => question.about)).toEqual(["count above"]);
});

test("a count below the record is explained by the cause given after it", () => {
  const home = phone(threePlots);
  home.record([standDraft(looking, home.view(), null, 1)]);
  expect(home.view().standing).toBe(1);
  home.record(loseDrafts(looking, home.view(), [null, null], "birds"));
  expect(home.view().standing).toBe(1);
  expect(home.view().cohorts[0].lost).toBe(2);
  expect(home.view().questions).toEqual([]);
});

test.each([
  ["regrew", 0],
  ["added", 0],
  ["left", 1],
])("a count above the record that %s leaves %i open questions", (answer, open) => {
  const home = phone(threePlots, [homeFact(1, {})]);
  home.record([standDraft(looking, home.view(), null, 3)]);
  if (answer === "regrew") home.record([regrewDraft(looking, home.view(), null, 1)]);
  if (answer === "added") home.record([addedDraft(looking, home.view(), null, 1)]);
  expect(home.view().questions).toHaveLength(open);
  expect(home.view().standing).toBe(open === 0 ? 3 : 2);
});

test("a plant set in after *took* is a cohort of its own, lost and counted apart from the planting", () => {
  const home = phone(threePlots, [homeFact(1, { amount: 2 })]);
  home.record([addedDraft(looking, home.view(), cohortOfFilling(trial, walkDay), 1)]);
  expect(home.view().cohorts.map(({ cohortOn, standing }) => [cohortOn, standing])).toEqual([
    [null, 1],
    [walkDay, 1],
  ]);
  const stands = home.record(restStandDrafts(looking, [home.view()]));
  expect(stands.map(({ cohortOn, amount }) => [cohortOn, amount])).toEqual([
    [null, 1],
    [walkDay, 1],
  ]);
  home.record(loseDrafts(looking, home.view(), [walkDay], "slugs"));
  expect(home.view().cohorts.map(({ standing }) => standing)).toEqual([1, 0]);
});

test("a filling up to *took* completes the planting", () => {
  expect(cohortOfFilling(trial, "2026-10-20" as Day)).toBeNull();
  expect(cohortOfFilling(trial, "2026-10-21" as Day)).toBe("2026-10-21");
});

test("plants taken out by somebody are no loss", () => {
  const home = phone(threePlots);
  home.record(removeDrafts(looking, home.view(), [null], "thinned"));
  expect(home.view()).toMatchObject({ standing: 2, cohorts: [{ lost: 0 }] });
});

test("doubtful counts in all and goes back to none; the ledger does not move", () => {
  const home = phone(threePlots);
  home.record(doubtDrafts(looking, home.view(), [null], 1));
  home.record(doubtDrafts(looking, home.view(), [null], 1));
  expect(home.view()).toMatchObject({ standing: 3, doubtful: 2 });
  home.record(doubtDrafts(looking, home.view(), [null, null], -1));
  expect(home.view()).toMatchObject({ standing: 3, doubtful: 0 });
});

test("stems, scores, notes and the end are facts of the plot", () => {
  const home = phone(threePlots);
  home.record([flowerStemDraft(looking, home.view(), 2)]);
  home.record([scoreDraft(looking, home.view(), "colour", 6)]);
  home.record([noteDraft(looking, home.view(), "Edge eaten <b>here</b>")]);
  expect(home.view().firstFlowerStemOn).toBe(walkDay);
  home.record(endedDrafts(looking, home.view()));
  expect(home.view().endedOn).toBe(walkDay);
  expect(restStandDrafts(looking, [home.view()])).toEqual([]);
  expect(couldNotLookDrafts(looking, [home.view()])).toEqual([]);
});

test("only a plot of which something new is told is folded anew, and it is as if all were", () => {
  const beds = [bed("Long bed", [plot(1), plot(2)])];
  const viewsOf = plotViewer();
  const before = viewsOf(pack(beds, []), [], {});
  const loss = homeFact(1, { amount: 2 });
  const { plotId } = loss;
  const other = plotId === "plot-1" ? "plot-2" : "plot-1";
  const samePlots = { ...pack(beds, [loss]) };
  const after = viewsOf(samePlots, [], {});
  expect(after.get(other)).toBe(before.get(other));
  expect(after.get(plotId)?.standing).toBe((before.get(plotId)?.standing ?? 0) - 2);
  expect(after).toEqual(plotViews(samePlots, [], {}));
  expect(viewsOf(pack(beds, []), [], {})).toEqual(before);
});

test("a growth stage is a fact of the plot that moves nothing, and one beyond 99 does not fit", () => {
  const home = phone(threePlots);
  const before = home.view();
  const draft = stageDraft(looking, before, 41);
  home.record([draft]);
  const after = home.view();
  expect([after.standing, after.lastSeenOn]).toEqual([before.standing, walkDay]);
  const [stage] = after.inForce.filter((fact) => fact.trait === growthStage);
  expect(sayObservation(stage)).toBe("growth stage BBCH 41, parts to harvest forming");
  expect(sayObservation({ ...stage, amount: 5 })).toBe("growth stage BBCH 05, germinating or sprouting");
  expect(observationMisfit(stage)).toBeNull();
  expect(observationMisfit({ ...stage, amount: 99 })).toBeNull();
  expect(observationMisfit({ ...stage, amount: 100 })).toMatchObject({ field: "amount" });
});

test("taking the last act back leaves the record as it was before it", () => {
  const home = phone(threePlots);
  const lost = home.record(loseDrafts(looking, home.view(), [null], "slugs"));
  const stands = home.record(restStandDrafts(looking, views(home)));
  home.record(takeBackDrafts(looking, stands));
  home.record(takeBackDrafts(looking, lost));
  expect(views(home).map((view) => [view.standing, view.inForce.length])).toEqual([
    [3, 0],
    [3, 0],
    [3, 0],
  ]);
});

test("a loss taken back after the bed was closed takes its count along and writes it anew", () => {
  const home = phone(threePlots);
  const [lost] = home.record(loseDrafts(looking, home.view(), [null], "slugs"));
  home.record(restStandDrafts(looking, views(home)));
  home.record(setRightDrafts(looking, home.view(), lost));
  expect(home.view()).toMatchObject({ standing: 3, questions: [], cohorts: [{ lost: 0 }] });
  expect(home.view().inForce.map((fact) => [fact.kind, fact.amount])).toEqual([["stand", 3]]);
});

test("a fact that moves nothing is taken back by itself", () => {
  const home = phone(threePlots);
  const [note] = home.record([noteDraft(looking, home.view(), "wet")]);
  home.record(restStandDrafts(looking, views(home)));
  expect(setRightDrafts(looking, home.view(), note).map((draft) => draft.kind)).toEqual(["withdrawn"]);
});

test("marks are drawn as often as the facts say, where this phone remembers them, else at the end", () => {
  const counts = { plants: 4, cohorts: [{ cohortOn: null, standing: 2 }], doubtful: 1 };
  const drawn = (remembered: Parameters<typeof plotMarks>[1]) =>
    plotMarks(counts, remembered).map((mark) => mark.is);
  expect(drawn({})).toEqual(["standing", "doubtful", "gap", "gap"]);
  expect(drawn({ 0: "gap", 1: "doubtful" })).toEqual(["gap", "doubtful", "standing", "gap"]);
  expect(drawn({ 0: "gap", 1: "gap", 2: "gap" })).toEqual(["gap", "gap", "standing", "doubtful"]);
});

test("a later filling is drawn where it was set, and more plants than were planted get marks of their own", () => {
  const day = "2027-01-02" as Day;
  const cohorts = [
    { cohortOn: null, standing: 2 },
    { cohortOn: day, standing: 1 },
  ];
  const marks = plotMarks({ plants: 3, cohorts, doubtful: 0 }, { 1: day });
  expect(marks.map((mark) => mark.cohortOn)).toEqual([null, day, null]);
  const many = plotMarks({ plants: 2, cohorts: [{ cohortOn: null, standing: 3 }], doubtful: 0 }, {});
  expect(many.map((mark) => mark.is)).toEqual(["standing", "standing", "standing"]);
});

test("remembering a place does not touch what was remembered before", () => {
  const before = { 0: "gap" as const };
  expect(remember(before, [2], "gap")).toEqual({ 0: "gap", 2: "gap" });
  expect(remember(before, [0], null)).toEqual({});
  expect(before).toEqual({ 0: "gap" });
});

const beds = ["one", "two", "three"].map((name) => bed(name, [plot(1)]));
const act = (bedId: string, closed = false): WalkAct => ({
  factIds: [idOf(1), idOf(2)],
  bedId,
  words: "something",
  closed,
  marksBefore: {},
});

test("a round goes on to the next open bed in walking order and comes round to those left", () => {
  let walk = startWalk(idOf(7), walkDay, "two");
  walk = afterAct(walk, act("two", true), "looked", beds);
  expect(walk.bedId).toBe("three");
  walk = afterAct(walk, act("three", true), "not-seen", beds);
  expect(walk.bedId).toBe("one");
  expect(allClosed(beds, walk)).toBe(false);
  walk = afterAct(walk, act("one", true), "looked", beds);
  expect(allClosed(beds, walk)).toBe(true);
  expect(nextOpenBed(beds, walk)).toBeNull();
});

test("undo goes back to the bed where the act was done and opens it again", () => {
  let walk = startWalk(idOf(7), walkDay, "one");
  walk = afterAct(walk, act("one"), null, beds);
  walk = afterAct(walk, act("one", true), "looked", beds);
  const undone = beforeLastAct({ ...walk, ended: true });
  expect(undone?.walk).toMatchObject({ bedId: "one", closed: {}, ended: false });
  expect(undone?.walk.acts).toHaveLength(1);
  expect(beforeLastAct(startWalk(idOf(7), walkDay, "one"))).toBeNull();
});

test("facts taken back one by one leave the acts that can be undone", () => {
  const walk = afterAct(startWalk(idOf(7), walkDay, "one"), act("one"), null, beds);
  expect(withoutFacts(walk, [idOf(1)]).acts[0].factIds).toEqual([idOf(2)]);
  expect(withoutFacts(walk, [idOf(1), idOf(2)]).acts).toEqual([]);
});

test("an assessment is asked for from its day on for a week, and each score once", () => {
  const on = (day: string) => dueAssessment(trial, day as Day)?.name ?? null;
  expect([on("2027-01-09"), on("2027-01-10"), on("2027-01-16"), on("2027-01-17")]).toEqual([
    null,
    "midwinter",
    "midwinter",
    null,
  ]);
  const assessment = trial.assessments[1];
  const scored = homeFact(1, {
    kind: "score",
    trait: "colour",
    cause: null,
    unit: "score",
    amount: 4,
    seenOn: "2027-01-11" as Day,
  });
  expect(traitsToScore(trial, assessment, "plot-1", [])).toEqual(["cold damage", "colour"]);
  expect(traitsToScore(trial, assessment, "plot-1", [scored])).toEqual(["cold damage"]);
  expect(traitsToScore(trial, assessment, "plot-2", [scored])).toEqual(["cold damage", "colour"]);
});
