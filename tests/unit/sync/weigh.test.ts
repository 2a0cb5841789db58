import { expect, test } from "vitest";
import type { FactDraft } from "@/lib/sync/device/fact-draft";
import { plotViews } from "@/lib/sync/device/plot-view";
import { stampFacts } from "@/lib/sync/device/stamp-facts";
import {
  changePickDrafts,
  type Picked,
  pickDrafts,
  picksOf,
  takeBackPickDrafts,
  takesPlant,
} from "@/lib/sync/device/weigh-acts";
import {
  type HarvestPart,
  type Observation,
  observationMisfit,
  observationSchema,
} from "@/lib/words/observation";
import { bed, homeFact, pack, plot } from "./example-bed";
import { idOf, instantAt, plotFacts, walkDay } from "./facts";

function scale(part: HarvestPart, homeFacts: Observation[] = []) {
  const weighing = { weighInId: idOf(8), pickedOn: walkDay, part, by: "Rowan" };
  const facts: Observation[] = [];
  let row = { deviceId: idOf(999), nextSequence: 0 };
  const view = () =>
    plotViews(pack([bed("Long bed", [plot(1)])], [...homeFacts, ...facts]), [], {}).get("plot-1")!;
  const record = (drafts: FactDraft[]) => {
    const ids = drafts.map((_, index) => idOf(100 + row.nextSequence + index));
    const stamped = stampFacts({ drafts, ids, recordedAt: instantAt(row.nextSequence) }, row);
    row = stamped.row;
    for (const fact of plotFacts(stamped.entries)) {
      expect(observationSchema.safeParse(fact).success).toBe(true);
      expect(observationMisfit(fact)).toBeNull();
      facts.push(fact);
    }
  };
  return {
    weighing,
    view,
    record,
    write: (picked: Picked) => record(pickDrafts(weighing, view(), picked)),
    picks: () => picksOf(view(), walkDay, part),
  };
}

test("nothing to pick is 0 g, not picked is no figure, and both differ from not yet asked", () => {
  const leaf = scale("leaf");
  expect(leaf.picks()).toEqual([]);
  leaf.write({ weightG: 0, plants: null });
  leaf.write({ weightG: null, plants: null });
  expect(leaf.picks().map((pick) => pick.weightG)).toEqual([0, null]);
});

test("leaves leave their plants standing", () => {
  const leaf = scale("leaf");
  leaf.write({ weightG: 450, plants: null });
  expect(leaf.view().standing).toBe(3);
  expect(leaf.picks()).toMatchObject([{ weightG: 450, plants: null }]);
});

test("heads book number, grams and removal in one act", () => {
  const heads = scale("head");
  heads.write({ weightG: 1200, plants: 2 });
  const [pick] = heads.picks();
  expect(pick).toMatchObject({ weightG: 1200, plants: 2 });
  expect(pick.facts.map((fact) => [fact.kind, fact.amount, fact.unit, fact.cause])).toEqual([
    ["harvest", 1200, "g", null],
    ["harvest", 2, "count", null],
    ["removed", 2, "plants", "cut"],
  ]);
  expect(heads.view()).toMatchObject({ standing: 1, cohorts: [{ lost: 0 }], questions: [] });
});

test("more heads than stood are kept as said, to be settled, and nothing goes below none", () => {
  const heads = scale("head", [homeFact(1, { amount: 2 })]);
  heads.write({ weightG: 900, plants: 3 });
  expect(heads.view().standing).toBe(0);
  expect(heads.view().questions).toMatchObject([{ about: "removed beyond", plants: 2 }]);
});

test("heads come from the planting first, then from later fillings", () => {
  const filling = homeFact(2, { kind: "added", cause: null, cohortOn: walkDay, amount: 1, seenOn: walkDay });
  const heads = scale("head", [homeFact(1, { amount: 2 }), filling]);
  heads.write({ weightG: 900, plants: 2 });
  expect(heads.view()).toMatchObject({ standing: 0, questions: [] });
  expect(heads.view().cohorts.map((cohort) => cohort.standing)).toEqual([0, 0]);
});

test("a corrected pick replaces each of its facts; both stay in the history", () => {
  const heads = scale("head");
  heads.write({ weightG: 1200, plants: 3 });
  heads.record(changePickDrafts(heads.weighing, heads.view(), heads.picks()[0], { weightG: 800, plants: 2 }));
  expect(heads.picks()).toMatchObject([{ weightG: 800, plants: 2 }]);
  expect(heads.view()).toMatchObject({ standing: 1, questions: [] });
  heads.record(
    changePickDrafts(heads.weighing, heads.view(), heads.picks()[0], { weightG: null, plants: null }),
  );
  expect(heads.picks()).toMatchObject([{ weightG: null, plants: null }]);
  expect(heads.view().standing).toBe(3);
});

test("a pick taken back is asked for again, and its plants stand", () => {
  const heads = scale("head");
  heads.write({ weightG: 1200, plants: 3 });
  heads.record(takeBackPickDrafts(heads.weighing, heads.picks()[0].facts));
  expect(heads.picks()).toEqual([]);
  expect(heads.view().standing).toBe(3);
});

test("two picks of one day stay two", () => {
  const leaf = scale("leaf");
  leaf.write({ weightG: 100, plants: null });
  leaf.write({ weightG: 50, plants: null });
  expect(leaf.picks().map((pick) => pick.weightG)).toEqual([100, 50]);
});

test("heads, roots and bulbs take their plant; leaves, pods and tops do not", () => {
  expect(["head", "root", "bulb"].every((part) => takesPlant(part as HarvestPart))).toBe(true);
  expect(
    ["leaf", "pod", "shelled", "tops", "green stem"].some((part) => takesPlant(part as HarvestPart)),
  ).toBe(false);
});
