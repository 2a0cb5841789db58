import { v7 } from "uuid";
import { describe, expect, it } from "vitest";
import { plotHistory } from "@/lib/service/plot-history";
import { receiveObservations } from "@/lib/service/receive-observations";
import { batchLimit, contractVersion } from "@/lib/sync/contract";
import type { Day } from "@/lib/words/day";
import { type freshHouse, houseWithTrial, keptRecord, send, someFact } from "./fresh-house";

function standOf(house: ReturnType<typeof freshHouse>, cohortId: string) {
  return house.database.$client.prepare("SELECT * FROM stand WHERE cohort_id = ?").get(cohortId);
}

function countFacts(house: ReturnType<typeof freshHouse>): unknown {
  return house.database.$client.prepare("SELECT count(*) FROM observation").pluck().get();
}

describe("a fact that comes home", () => {
  it("is recorded, and its cohort's stand is what the facts say", () => {
    const { house, trial } = houseWithTrial();
    const plotId = trial.plots[0].id;
    const cohortId = `${plotId}/2026-09-20`;
    expect(standOf(house, cohortId)).toMatchObject({ standing: 3, lost: 0 });
    const fact = someFact(plotId, { kind: "loss", cause: "slugs", amount: 1 });
    expect(send(house, [fact])).toEqual([{ id: fact.id, answer: "recorded" }]);
    expect(standOf(house, cohortId)).toEqual({
      cohort_id: cohortId,
      standing: 2,
      lost: 1,
      removed: 0,
      unsettled: 0,
      last_seen_on: "2026-11-25",
    });
  });

  it("changes nothing when it is sent again", () => {
    const { house, trial } = houseWithTrial();
    const fact = someFact(trial.plots[0].id);
    send(house, [fact]);
    const before = keptRecord(house.database);
    expect(send(house, [fact, fact])).toEqual([
      { id: fact.id, answer: "already" },
      { id: fact.id, answer: "already" },
    ]);
    expect(keptRecord(house.database)).toEqual(before);
  });

  it("is the same fact with its parts in another order and its id in capitals", () => {
    const { house, trial } = houseWithTrial();
    const fact = someFact(trial.plots[0].id);
    send(house, [fact]);
    const turned = Object.fromEntries(Object.entries(fact).reverse());
    const capitals = { ...turned, id: fact.id.toUpperCase() };
    expect(send(house, [capitals])).toEqual([{ id: fact.id.toUpperCase(), answer: "already" }]);
    expect(countFacts(house)).toBe(1);
  });

  it.each([
    ["another amount", { amount: 1 }],
    ["another day", { seenOn: "2026-11-24" as Day }],
    ["a note", { note: "wet" }],
    ["another hand", { by: "Ada" }],
  ])("is refused under an id that holds another fact: %s", (_, change) => {
    const { house, trial } = houseWithTrial();
    const fact = someFact(trial.plots[0].id);
    send(house, [fact]);
    const before = keptRecord(house.database);
    expect(send(house, [{ ...fact, ...change }])).toMatchObject([
      { id: fact.id, answer: "refused", place: "id" },
    ]);
    expect(keptRecord(house.database)).toEqual(before);
  });

  it("is refused for a plot that is not there", () => {
    const { house } = houseWithTrial();
    expect(send(house, [someFact("nowhere")])).toMatchObject([
      { answer: "refused", place: "plotId", found: "nowhere" },
    ]);
  });

  it.each([
    ["id", { id: "7" }],
    ["deviceId", { deviceId: "" }],
    ["deviceSequence", { deviceSequence: -1 }],
    ["deviceSequence", { deviceSequence: 1.5 }],
    ["kind", { kind: "eaten" }],
    ["amount", { amount: -1 }],
    ["amount", { amount: Number.NaN }],
    ["amount", { amount: 1e12 }],
    ["amount", { amount: 2.5 }],
    ["amount", { amount: null }],
    ["unit", { unit: "g" }],
    ["unit", { unit: "stone" }],
    ["cause", { kind: "loss", cause: null }],
    ["cause", { kind: "loss", cause: "  " }],
    ["cause", { kind: "removed", cause: null }],
    ["seenOn", { seenOn: "2026-02-30" }],
    ["seenOn", { seenOn: "25 Nov" }],
    ["recordedAt", { recordedAt: "2026-11-25" }],
    ["recordedAt", { recordedAt: "2026-11-25T25:00:00.000Z" }],
    ["cohortOn", { cohortOn: "2026-13-01" }],
    ["part", { kind: "harvest", unit: "g", part: "blossom" }],
    ["amount", { kind: "harvest", unit: "g", amount: 1.5 }],
    ["amount", { kind: "score", unit: "score", trait: "vigour", amount: 10 }],
    ["trait", { kind: "score", unit: "score", trait: "", amount: 5 }],
    ["amount", { kind: "count", unit: "count", trait: "bbch", amount: 100 }],
    ["note", { kind: "withdrawn", replaces: v7(), note: null }],
    ["note", { note: "x".repeat(10_001) }],
    ["by", { by: "x".repeat(121) }],
  ])("is refused for its form, and told where: %s %o", (place, change) => {
    const { house, trial } = houseWithTrial();
    const [answer] = send(house, [{ ...someFact(trial.plots[0].id), ...change }]);
    expect(answer).toMatchObject({ answer: "refused", place });
    expect(answer).toMatchObject({ wanted: expect.stringMatching(/\S/), found: expect.stringMatching(/\S/) });
    expect(countFacts(house)).toBe(0);
  });

  it("is never refused for its arithmetic", () => {
    const { house, trial } = houseWithTrial();
    const plotId = trial.plots[0].id;
    const answers = send(house, [
      someFact(plotId, { kind: "loss", cause: "cold", amount: 50 }),
      someFact(plotId, { kind: "removed", cause: "cut", amount: 50 }),
      someFact(plotId, { amount: 99 }),
      someFact(plotId, { kind: "regrew", amount: 40 }),
      someFact(plotId, { seenOn: "2025-01-01" as Day }),
      someFact(plotId, { seenOn: "2031-01-01" as Day }),
    ]);
    expect(answers.map((answer) => answer.answer)).toEqual(Array(6).fill("recorded"));
    const stand = standOf(house, `${plotId}/2026-09-20`) as { standing: number; unsettled: number };
    expect(stand.standing).toBeGreaterThanOrEqual(0);
    expect(stand.unsettled).toBeGreaterThan(0);
  });

  it("keeps markup and long notes letter for letter", () => {
    const { house, trial } = houseWithTrial();
    const note = `<script>alert("x")</script> ${"é".repeat(9_000)}\n'; DROP TABLE observation; --`;
    send(house, [someFact(trial.plots[0].id, { note, by: "<b>Ruth</b>" })]);
    const kept = plotHistory(house, trial.plots[0].id)?.facts[0];
    expect(kept?.note).toBe(note);
    expect(kept?.by).toBe("<b>Ruth</b>");
  });
});

describe("a fact that the edge lets through and the file does not", () => {
  it("is refused, not kept for ever to be tried again, and leaves nothing behind", () => {
    const { house, trial } = houseWithTrial();
    const before = keptRecord(house.database);
    // SQLite ends a text at a NUL when it measures it.
    const fact = someFact(trial.plots[0].id, { kind: "loss", cause: "\u0000x", amount: 1 });
    expect(send(house, [fact])).toMatchObject([{ id: fact.id, answer: "refused", place: "fact" }]);
    expect(keptRecord(house.database)).toEqual(before);
  });
});

describe("a batch", () => {
  it("is judged fact by fact: a bad one never stops the rest", () => {
    const { house, trial } = houseWithTrial();
    const good = [someFact(trial.plots[0].id), someFact(trial.plots[1].id)];
    const answers = send(house, [good[0], { nonsense: true }, null, 7, someFact("nowhere"), good[1]]);
    expect(answers.map((answer) => answer.answer)).toEqual([
      "recorded",
      "refused",
      "refused",
      "refused",
      "refused",
      "recorded",
    ]);
    expect(answers.map((answer) => answer.id)).toEqual([
      good[0].id,
      "",
      "",
      "",
      expect.any(String),
      good[1].id,
    ]);
  });

  it.each([
    ["nothing", undefined],
    ["a list", []],
    ["no facts", { contract: contractVersion }],
    ["no contract", { facts: [] }],
    ["too many facts", { contract: contractVersion, facts: Array(batchLimit.facts + 1).fill({}) }],
  ])("that is none is refused whole: %s", (_, input) => {
    const { house } = houseWithTrial();
    expect(receiveObservations(house, input).ok).toBe(false);
  });

  it("of the contract before is taken", () => {
    const { house, trial } = houseWithTrial();
    const outcome = receiveObservations(house, {
      contract: contractVersion - 1,
      facts: [someFact(trial.plots[0].id)],
    });
    expect(outcome).toMatchObject({ ok: true, value: { replies: [{ answer: "recorded" }] } });
  });

  it.each([
    ["newer than the home", contractVersion + 1, /update/],
    ["much older than the home", contractVersion - 2, /load it again/],
  ])("of a contract %s is kept by the phone for later", (_, contract, words) => {
    const { house, trial } = houseWithTrial();
    const fact = someFact(trial.plots[0].id);
    const outcome = receiveObservations(house, { contract, facts: [fact] });
    expect(outcome).toMatchObject({
      ok: true,
      value: { replies: [{ id: fact.id, answer: "later", why: expect.stringMatching(words) }] },
    });
    expect(countFacts(house)).toBe(0);
  });

  it("is answered `later` when the file cannot be written, and nothing of the fact stays behind", () => {
    const { house, trial } = houseWithTrial();
    const reported: unknown[] = [];
    house.report = (fault) => reported.push(fault);
    const fact = someFact(trial.plots[0].id, { kind: "loss", cause: "badgers" });
    const before = keptRecord(house.database);
    house.database.$client.pragma("query_only = ON");
    expect(send(house, [fact])).toMatchObject([{ id: fact.id, answer: "later" }]);
    house.database.$client.pragma("query_only = OFF");
    expect(reported).toHaveLength(1);
    expect(keptRecord(house.database)).toEqual(before);
    expect(send(house, [fact])).toEqual([{ id: fact.id, answer: "recorded" }]);
  });
});

describe("two kinds of time", () => {
  it("a walkabout at 23:30 in summer belongs to that evening, though in UTC it is the same day or the next", () => {
    const { house, trial } = houseWithTrial();
    const plotId = trial.plots[0].id;
    // 00:10 on 2 July by the garden's clock is 23:10 on 1 July by UTC.
    const late = { seenOn: "2026-07-02" as Day, recordedAt: "2026-07-01T23:10:00.000Z" as never };
    send(house, [someFact(plotId, late)]);
    expect(plotHistory(house, plotId)?.facts[0]).toMatchObject(late);
  });

  it("keeps when it was recorded and when it came home apart", () => {
    const { house, trial } = houseWithTrial();
    house.at = "2026-12-01T18:00:00.000Z" as never;
    const fact = someFact(trial.plots[0].id);
    send(house, [fact]);
    expect(plotHistory(house, fact.plotId)?.facts[0]).toMatchObject({
      seenOn: "2026-11-25",
      recordedAt: "2026-11-25T08:30:00.000Z",
      receivedAt: "2026-12-01T18:00:00.000Z",
    });
  });
});

describe("causes", () => {
  it("of the grower's own are kept between the listed ones and the two that stand last", () => {
    const { house, trial } = houseWithTrial();
    send(house, [someFact(trial.plots[0].id, { kind: "loss", cause: "the-neighbours-goat", amount: 1 })]);
    const codes = house.database.$client
      .prepare("SELECT code FROM cause WHERE takes = 'loss' ORDER BY position, code")
      .pluck()
      .all();
    expect(codes.slice(-4)).toEqual(["trodden", "the-neighbours-goat", "no-sign", "unknown"]);
  });
});
