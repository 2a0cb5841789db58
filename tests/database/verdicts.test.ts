import { describe, expect, it } from "vitest";
import { gardenView } from "@/lib/service/garden-view";
import { recordVerdict } from "@/lib/service/record-verdict";
import { trialFindings } from "@/lib/service/trial-findings";
import { trialVerdicts } from "@/lib/service/trial-verdicts";
import type { Day } from "@/lib/words/day";
import { given, houseWithTrial, send, someFact } from "./fresh-house";

/** The trial in spring: every plot counted on the deciding day, the tender check gone, one pick weighed. */
function inSpring() {
  const { house, trialId, trial } = houseWithTrial();
  const variety = new Map(trial.entries.map((entry) => [entry.id, entry.variety]));
  house.at = "2027-03-21T09:00:00.000Z" as never;
  const seenOn = "2027-03-20" as Day;
  const facts = trial.plots.flatMap((plot, index) => {
    const isTender = variety.get(plot.entryId) === "Carrow";
    return [
      someFact(plot.id, { seenOn, amount: isTender ? 0 : 3 - (index % 2) }),
      someFact(plot.id, {
        seenOn,
        kind: "harvest",
        unit: "g",
        part: "leaf",
        amount: isTender ? 0 : 200 + 7 * index,
      }),
    ];
  });
  for (const reply of send(house, facts)) expect(reply.answer).toBe("recorded");
  const entryId = trial.entries.find((entry) => entry.variety === "Hollin")?.id ?? "";
  return { house, trialId, entryId };
}

const verdict = { choice: "try once more", reason: "One winter is not two.", by: "Ruth" };

describe("a verdict", () => {
  it("keeps the figures and the proposal as they lay before the person, beside the choice and its reason", () => {
    const { house, trialId, entryId } = inSpring();
    given(recordVerdict(house, { trialId, entryId, ...verdict }));
    const findings = trialFindings(house, trialId);
    const kept = trialVerdicts(house, trialId);
    expect(kept).toHaveLength(1);
    expect(kept[0]).toMatchObject({
      entryId,
      variety: "Hollin",
      ...verdict,
      decidedOn: "2027-03-21",
      decidedAt: "2027-03-21T09:00:00.000Z",
      isLatest: true,
      use: {
        crop: "mustard greens",
        variety: "Hollin",
        covers: ["Long net"],
        sownOn: "2026-08-20",
        plantedOn: "2026-09-20",
        purpose: "winter leaf",
      },
      figures: { asOf: findings?.at, ruleVersion: 1 },
    });
    const told = findings?.survival?.value.varieties.find((row) => row.variety === "Hollin");
    expect(kept[0].figures.survival).toEqual(told);
    expect(told).toMatchObject({ plots: 4, plants: 12 });
    expect(kept[0].figures.proposal?.choice ?? null).toBe(kept[0].proposal);
  });

  it("sent twice is written down once; the same words on another day are another verdict", () => {
    const { house, trialId, entryId } = inSpring();
    const first = given(recordVerdict(house, { trialId, entryId, ...verdict }));
    const second = given(recordVerdict(house, { trialId, entryId, ...verdict }));
    expect(second).toEqual(first);
    expect(trialVerdicts(house, trialId)).toHaveLength(1);
    house.at = "2027-03-22T09:00:00.000Z" as never;
    given(recordVerdict(house, { trialId, entryId, ...verdict }));
    expect(trialVerdicts(house, trialId)).toHaveLength(2);
  });

  it("given again is another row; the earlier one stays to be read", () => {
    const { house, trialId, entryId } = inSpring();
    given(recordVerdict(house, { trialId, entryId, ...verdict }));
    house.at = "2027-04-01T09:00:00.000Z" as never;
    given(recordVerdict(house, { trialId, entryId, ...verdict, choice: "drop", purpose: "summer leaf" }));
    expect(trialVerdicts(house, trialId)).toMatchObject([
      { choice: "try once more", isLatest: false, use: { purpose: "winter leaf" } },
      { choice: "drop", isLatest: true, use: { purpose: "summer leaf" } },
    ]);
  });

  it("is owed until it is given", () => {
    const { house, trialId, entryId } = inSpring();
    house.at = "2027-05-02T09:00:00.000Z" as never;
    expect(gardenView(house).trials[0].verdictsOwed).toBe(1);
    given(recordVerdict(house, { trialId, entryId, ...verdict }));
    expect(gardenView(house).trials[0].verdictsOwed).toBe(0);
  });

  it.each([
    ["choice", { choice: "perhaps" }],
    ["choice", { choice: undefined }],
    ["reason", { reason: "" }],
    ["reason", { reason: "x".repeat(10_001) }],
    ["entryId", { entryId: "nowhere" }],
    ["entryId", { trialId: "nowhere" }],
  ])("is refused at %s, and nothing is written: %o", (place, change) => {
    const { house, trialId, entryId } = inSpring();
    expect(recordVerdict(house, { trialId, entryId, ...verdict, ...change })).toMatchObject({
      ok: false,
      faults: [{ place }],
    });
    expect(trialVerdicts(house, trialId)).toEqual([]);
  });

  it("is never written by the program itself", () => {
    const { house, trialId } = inSpring();
    expect(trialFindings(house, trialId)?.proposals).not.toBeNull();
    expect(trialVerdicts(house, trialId)).toEqual([]);
  });
});

describe("findings", () => {
  it("of a trial that is not there are null, and of one without facts say nothing of survival", () => {
    const { house, trialId } = houseWithTrial();
    expect(trialFindings(house, "nowhere")).toBeNull();
    expect(trialFindings(house, trialId)).toMatchObject({ survival: null, yield: null });
  });

  it("can be asked for an earlier day", () => {
    const { house, trialId } = inSpring();
    expect(trialFindings(house, trialId, { at: "2027-03-20" as Day })?.at).toBe("2027-03-20");
  });
});
