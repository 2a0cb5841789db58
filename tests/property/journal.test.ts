import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { inForce } from "@/lib/journal/in-force";
import { standAt } from "@/lib/journal/stand-at";
import { addDays, type Day } from "@/lib/words/day";
import type { Instant } from "@/lib/words/instant";
import type { Observation } from "@/lib/words/observation";
import { firstFlowerStem } from "@/lib/words/trait";
import { idOf } from "../unit/journal/facts";

const plantedOn = "2026-09-20" as Day;
const plot = { id: "plot-1", plants: 6, plantedOn };
const run = { seed: 20261125, numRuns: 3000 };
const kinds = [
  "stand",
  "loss",
  "removed",
  "added",
  "regrew",
  "doubtful",
  "not-seen",
  "count",
  "ended",
  "withdrawn",
] as const;

const draft = fc.record({
  kind: fc.constantFrom(...kinds, "stand", "loss", "loss", "regrew"),
  device: fc.integer({ min: 1, max: 3 }),
  sequence: fc.integer({ min: 0, max: 12 }),
  day: fc.integer({ min: -2, max: 8 }),
  amount: fc.integer({ min: 0, max: 9 }),
  cause: fc.constantFrom("slugs", "cold", null),
  cohort: fc.constantFrom(null, null, null, 5, 0),
  otherPlot: fc.boolean(),
  replaces: fc.option(fc.integer({ min: 0, max: 14 }), { freq: 2 }),
});

/** Any facts at all, corrections in rings and of what never arrived included. */
const anyFacts = fc.array(draft, { maxLength: 14 }).map((drafts) =>
  drafts.map((made, index): Observation => {
    const seenOn = addDays(plantedOn, made.day);
    return {
      id: idOf(index),
      deviceId: idOf(900 + made.device),
      deviceSequence: made.sequence,
      walkaboutId: null,
      plotId: made.otherPlot && index % 3 === 0 ? "plot-2" : plot.id,
      cohortOn: made.cohort === null ? null : addDays(plantedOn, made.cohort),
      kind: made.kind,
      cause: made.kind === "loss" || made.kind === "removed" ? (made.cause ?? "unknown") : made.cause,
      trait: made.kind === "count" ? firstFlowerStem : null,
      part: null,
      amount: made.amount,
      unit: made.kind === "count" ? "count" : "plants",
      seenOn,
      recordedAt: `${seenOn}T12:00:00.000Z` as Instant,
      replaces: made.replaces === null ? null : idOf(made.replaces),
      by: "",
      note: "x",
    };
  }),
);

const days = Array.from({ length: 13 }, (_, index) => addDays(plantedOn, index - 3));

describe("the stand ledger, whatever the facts", () => {
  it("is never below zero, and always set out + added − lost − removed, on every day", () => {
    fc.assert(
      fc.property(anyFacts, (facts) => {
        for (const day of [...days, null]) {
          const { fillings, ...planting } = standAt(plot, facts, day);
          for (const stand of [planting, ...fillings]) {
            const { setOut, added, lost, removed, standing, lookedDead, doubtful, unsettled } = stand;
            expect(standing).toBe(setOut + added - lost - removed);
            for (const figure of [standing, lost, removed, added, unsettled, doubtful])
              expect(figure).toBeGreaterThanOrEqual(0);
            expect(lookedDead).toBeLessThanOrEqual(standing);
            expect(doubtful).toBeLessThanOrEqual(standing);
            for (const part of [...stand.losses, ...stand.removals]) expect(part.plants).toBeGreaterThan(0);
            for (const loss of stand.losses)
              expect(loss.standingOn === null || loss.standingOn <= loss.seenOn).toBe(true);
          }
        }
      }),
      run,
    );
  });

  it("is the same in whatever order facts arrive, however often, and beside facts of other plots", () => {
    const shuffled = anyFacts.chain((facts) =>
      fc.tuple(
        fc.constant(facts),
        fc.shuffledSubarray([...facts, ...facts], { minLength: 2 * facts.length }),
        fc.constantFrom(...days, null),
      ),
    );
    fc.assert(
      fc.property(shuffled, ([facts, arrived, day]) => {
        expect(standAt(plot, arrived, day)).toEqual(standAt(plot, facts, day));
        expect(inForce(inForce(arrived))).toEqual(inForce(facts));
        expect(standAt(plot, inForce(facts), day)).toEqual(standAt(plot, facts, day));
      }),
      run,
    );
  });

  it("never rises from one day to the next but by plants that were added", () => {
    fc.assert(
      fc.property(anyFacts, (facts) => {
        for (const day of days.slice(3, -1)) {
          const today = standAt(plot, facts, day);
          const tomorrow = standAt(plot, facts, addDays(day, 1));
          expect(tomorrow.standing - (tomorrow.added - today.added)).toBeLessThanOrEqual(today.standing);
        }
      }),
      run,
    );
  });

  it("ends at the last count when that count is the last word and asks nothing", () => {
    fc.assert(
      fc.property(anyFacts, fc.integer({ min: 0, max: 6 }), (facts, amount) => {
        const open = facts.filter((fact) => fact.kind !== "ended");
        const last = addDays(plantedOn, 20);
        const count: Observation = {
          id: idOf(500),
          deviceId: idOf(901),
          deviceSequence: 1,
          walkaboutId: null,
          plotId: plot.id,
          cohortOn: null,
          kind: "stand",
          cause: null,
          trait: null,
          part: null,
          amount,
          unit: "plants",
          seenOn: last,
          recordedAt: `${last}T12:00:00.000Z` as Instant,
          replaces: null,
          by: "",
          note: null,
        };
        const stand = standAt(plot, [...open, count], null);
        const asked = stand.questions.find((question) => question.about === "count above");
        expect(stand.standing + (asked?.plants ?? 0)).toBe(amount);
      }),
      run,
    );
  });
});

/** The ledger written the plain way, for facts of one device, one a day, none corrected: the branch that has no choices. */
function plainStanding(facts: readonly Observation[]): number {
  let standing = plot.plants;
  let lost = 0;
  for (const { kind, amount } of [...facts].sort((a, b) => (a.seenOn < b.seenOn ? -1 : 1))) {
    const plants = amount ?? 0;
    if (kind === "ended") break;
    if (kind === "added") standing += plants;
    if (kind === "removed") standing = Math.max(0, standing - plants);
    if (kind === "regrew") {
      const back = Math.min(lost, plants);
      lost -= back;
      standing += back;
    }
    if (kind === "loss" || (kind === "stand" && plants < standing)) {
      const left = kind === "loss" ? Math.max(0, standing - plants) : plants;
      lost += standing - left;
      standing = left;
    }
  }
  return standing;
}

describe("the stand ledger beside its plain twin", () => {
  it("agrees where there is one fact a day", () => {
    const oneADay = anyFacts.map((facts) =>
      facts.map(
        (fact, index): Observation => ({
          ...fact,
          plotId: plot.id,
          cohortOn: null,
          cause: fact.kind === "regrew" ? null : fact.cause,
          replaces: null,
          seenOn: addDays(plantedOn, index),
        }),
      ),
    );
    fc.assert(
      fc.property(oneADay, (facts) => {
        expect(standAt(plot, facts, null).standing).toBe(plainStanding(facts));
      }),
      run,
    );
  });
});
