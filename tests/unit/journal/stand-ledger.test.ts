import { describe, expect, it } from "vitest";
import { fillingCohort } from "@/lib/journal/filling-cohort";
import { standAt } from "@/lib/journal/stand-at";
import type { Day } from "@/lib/words/day";
import type { Observation } from "@/lib/words/observation";
import { firstFlowerStem } from "@/lib/words/trait";
import { factMaker } from "./facts";

const plot = { id: "plot-1", plants: 6, plantedOn: "2026-09-20" as Day };
const day = (text: string) => text as Day;
const standNow = (facts: Observation[]) => standAt(plot, facts, null);

describe("the stand ledger", () => {
  it("starts with the plants set out, on their day and not before", () => {
    expect(standAt(plot, [], day("2026-09-20"))).toMatchObject({ setOut: 6, standing: 6, lost: 0 });
    expect(standAt(plot, [], day("2026-09-19"))).toMatchObject({ setOut: 0, standing: 0 });
  });

  it("takes losses off by cause, between the last count and the day they were seen", () => {
    const fact = factMaker();
    const stand = standNow([
      fact("2026-10-01", "stand", { amount: 6 }),
      fact("2026-10-08", "loss", { amount: 2, cause: "slugs" }),
      fact("2026-10-08", "stand", { amount: 4 }),
      fact("2026-10-15", "loss", { amount: 1, cause: "birds" }),
    ]);
    expect(stand.standing).toBe(3);
    expect(stand.losses).toEqual([
      { cause: "slugs", plants: 2, standingOn: "2026-10-01", seenOn: "2026-10-08", derived: false },
      { cause: "birds", plants: 1, standingOn: "2026-10-08", seenOn: "2026-10-15", derived: false },
    ]);
    expect(stand.lastSeenOn).toBe("2026-10-15");
    expect(stand.countedOn).toEqual(["2026-10-01", "2026-10-08"]);
  });

  it("derives an unknown loss from a count below it, and lets a loss that arrives late take its place", () => {
    const fact = factMaker();
    const count = fact("2026-10-08", "stand", { amount: 4 });
    expect(standNow([count]).losses).toEqual([
      { cause: "unknown", plants: 2, standingOn: "2026-09-20", seenOn: "2026-10-08", derived: true },
    ]);
    const late = fact("2026-10-05", "loss", { amount: 1, cause: "slugs" });
    const stand = standNow([count, late]);
    expect(stand.standing).toBe(4);
    expect(stand.losses.map((loss) => [loss.cause, loss.plants])).toEqual([
      ["slugs", 1],
      ["unknown", 1],
    ]);
  });

  it("takes a loss of the count's own day as its explanation, whichever was noted first", () => {
    const fact = factMaker();
    const count = fact("2026-10-08", "stand", { amount: 5 });
    const loss = fact("2026-10-08", "loss", { amount: 1, cause: "slugs" });
    const swapped = { ...loss, deviceSequence: 0 };
    for (const noted of [loss, swapped]) {
      const stand = standNow([count, noted]);
      expect([stand.standing, stand.losses.length, stand.losses[0].cause]).toEqual([5, 1, "slugs"]);
    }
  });

  it("goes on falling when a loss follows a count that agreed", () => {
    const fact = factMaker();
    const facts = [
      fact("2026-10-08", "stand", { amount: 6 }),
      fact("2026-10-08", "loss", { amount: 1, cause: "slugs" }),
    ];
    expect(standNow(facts).standing).toBe(5);
  });

  it("asks about a count above it, until a recount, regrowth or an addition answers", () => {
    const fact = factMaker();
    const loss = fact("2026-10-01", "loss", { amount: 2, cause: "cold" });
    const count = fact("2026-10-08", "stand", { amount: 5 });
    const asked = standNow([loss, count]);
    expect([asked.standing, asked.unsettled]).toEqual([4, 1]);
    expect(asked.questions[0]).toMatchObject({ about: "count above", factId: count.id });

    const recount = fact("2026-10-08", "stand", { amount: 4, replaces: count.id });
    expect(standNow([loss, count, recount])).toMatchObject({ standing: 4, unsettled: 0 });
    const nextWeek = fact("2026-10-15", "stand", { amount: 4 });
    expect(standNow([loss, count, nextWeek])).toMatchObject({ standing: 4, unsettled: 0 });
    const regrew = fact("2026-10-08", "regrew", { amount: 1 });
    expect(standNow([loss, count, regrew])).toMatchObject({ standing: 5, lost: 1, unsettled: 0 });
    const added = fact("2026-10-15", "added", { amount: 1 });
    expect(standNow([loss, count, added])).toMatchObject({ standing: 5, added: 1, lost: 2, unsettled: 0 });
  });

  it("asks when the same phone noted losses and then counted them as standing, but not when two phones did", () => {
    const fact = factMaker();
    const loss = fact("2026-10-08", "loss", { amount: 2, cause: "cold" });
    const count = fact("2026-10-08", "stand", { amount: 6 });
    expect(standNow([loss, count])).toMatchObject({ standing: 4, unsettled: 2 });
    const otherPhone = { ...count, deviceId: "00000000-0000-7000-8000-00000000000b" };
    expect(standNow([loss, otherPhone])).toMatchObject({ standing: 4, unsettled: 0 });
  });

  it("sets a loss right from its own day when the plant comes again, and keeps both dates", () => {
    const fact = factMaker();
    const facts = [
      fact("2027-01-10", "loss", { amount: 2, cause: "cold" }),
      fact("2027-01-10", "stand", { amount: 4 }),
      fact("2027-03-20", "regrew", { amount: 1 }),
    ];
    expect(standAt(plot, facts, day("2027-02-01"))).toMatchObject({ standing: 5, lost: 1, lookedDead: 1 });
    expect(standAt(plot, facts.slice(0, 2), day("2027-02-01"))).toMatchObject({ standing: 4, lost: 2 });
    const stand = standNow(facts);
    expect(stand).toMatchObject({ standing: 5, lost: 1, lookedDead: 0 });
    expect(stand.regrowths).toEqual([
      { cause: "cold", plants: 1, lostOn: "2027-01-10", seenOn: "2027-03-20" },
    ]);
  });

  it("brings back plants of the cause that regrowth names, else the latest lost", () => {
    const fact = factMaker();
    const cold = fact("2027-01-10", "loss", { amount: 1, cause: "cold" });
    const slugs = fact("2027-02-10", "loss", { amount: 1, cause: "slugs" });
    const named = fact("2027-03-20", "regrew", { amount: 1, cause: "cold" });
    expect(standNow([cold, slugs, named]).losses.map((loss) => loss.cause)).toEqual(["slugs"]);
    const bare = { ...named, cause: null };
    expect(standNow([cold, slugs, bare]).losses.map((loss) => loss.cause)).toEqual(["cold"]);
    const twice = fact("2027-03-20", "regrew", { amount: 5 });
    expect(standNow([cold, slugs, twice])).toMatchObject({ standing: 6, unsettled: 3 });
  });

  it("never takes away more than there is, and says what is over", () => {
    const fact = factMaker();
    const stand = standNow([
      fact("2026-10-01", "loss", { amount: 5, cause: "slugs" }),
      fact("2026-10-08", "removed", { amount: 3, cause: "cut" }),
      fact("2026-10-15", "loss", { amount: 2, cause: "cold" }),
    ]);
    expect(stand).toMatchObject({ standing: 0, lost: 5, removed: 1, unsettled: 4 });
    expect(stand.questions.map((question) => question.about)).toEqual(["removed beyond", "lost beyond"]);
  });

  it("names the cause of plants that a count had already found gone, when no other plant is left for it", () => {
    const fact = factMaker();
    const stand = standNow([
      fact("2027-01-10", "stand", { amount: 0 }),
      fact("2027-01-17", "loss", { amount: 6, cause: "cold" }),
    ]);
    expect(stand.unsettled).toBe(0);
    expect(stand.losses).toEqual([
      { cause: "cold", plants: 6, standingOn: "2026-09-20", seenOn: "2027-01-10", derived: false },
    ]);
  });

  it("keeps what was cut, moved or met an accident apart from what was lost", () => {
    const fact = factMaker();
    const stand = standNow([
      fact("2026-12-01", "removed", { amount: 2, cause: "cut" }),
      fact("2026-12-08", "stand", { amount: 3 }),
    ]);
    expect(stand).toMatchObject({ standing: 3, lost: 1, removed: 2 });
    expect(stand.removals).toEqual([{ reason: "cut", plants: 2, seenOn: "2026-12-01" }]);
  });

  it("does not count 'could not look' as seen, nor a plot that was not picked", () => {
    const fact = factMaker();
    const stand = standNow([
      fact("2026-12-01", "stand", { amount: 6 }),
      fact("2026-12-08", "not-seen", { unit: null }),
      fact("2026-12-09", "harvest", { unit: "g", amount: null }),
    ]);
    expect(stand).toMatchObject({ standing: 6, lastSeenOn: "2026-12-01", notSeenOn: ["2026-12-08"] });
  });

  it("marks doubtful plants without moving, and clears the mark", () => {
    const fact = factMaker();
    const doubtful = fact("2026-12-01", "doubtful", { amount: 2 });
    expect(standNow([doubtful])).toMatchObject({ standing: 6, doubtful: 2 });
    expect(standNow([doubtful, fact("2026-12-08", "doubtful", { amount: 0 })]).doubtful).toBe(0);
  });

  it("takes bolting as a date and the end as an end: nothing moves after it", () => {
    const fact = factMaker();
    const stem = fact("2027-04-10", "count", { trait: firstFlowerStem, amount: 2, unit: "count" });
    const none = fact("2027-04-03", "count", { trait: firstFlowerStem, amount: 0, unit: "count" });
    const ended = fact("2027-04-20", "ended", { unit: null });
    const cleared = fact("2027-04-27", "stand", { amount: 0 });
    const stand = standNow([none, stem, ended, cleared]);
    expect(stand).toMatchObject({ standing: 6, lost: 0, firstFlowerStemOn: "2027-04-10" });
    expect(stand.endedOn).toBe("2027-04-20");
    expect(standAt(plot, [none, stem, ended], day("2027-04-05")).firstFlowerStemOn).toBeNull();
  });

  it("completes the planting before the took assessment; a later filling is a cohort of its own", () => {
    const tookOn = day("2026-10-10");
    expect(fillingCohort(plot.plantedOn, tookOn, day("2026-10-10"))).toBeNull();
    expect(fillingCohort(plot.plantedOn, tookOn, day("2026-10-11"))).toBe("2026-10-11");
    expect(fillingCohort(plot.plantedOn, null, day("2026-09-21"))).toBe("2026-09-21");

    const fact = factMaker();
    const facts = [
      fact("2026-09-28", "loss", { amount: 2, cause: "slugs" }),
      fact("2026-10-01", "added", { amount: 2 }),
      fact("2026-11-01", "loss", { amount: 1, cause: "birds" }),
      fact("2026-11-05", "added", { amount: 1, cohortOn: day("2026-11-05") }),
    ];
    const stand = standNow(facts);
    expect(stand).toMatchObject({ setOut: 6, added: 2, lost: 3, standing: 5 });
    expect(stand.fillings).toHaveLength(1);
    expect(stand.fillings[0]).toMatchObject({ setOutOn: "2026-11-05", added: 1, standing: 1 });
    expect(standAt(plot, facts, day("2026-11-04")).fillings).toEqual([]);
  });

  it("moves a fact to the plot that its correction names", () => {
    const fact = factMaker();
    const wrong = fact("2026-10-01", "loss", { amount: 1, cause: "slugs" });
    const right = fact("2026-10-01", "loss", {
      amount: 1,
      cause: "slugs",
      plotId: "plot-2",
      replaces: wrong.id,
    });
    expect(standNow([wrong, right]).standing).toBe(6);
    expect(standAt({ ...plot, id: "plot-2" }, [wrong, right], null).standing).toBe(5);
  });
});
