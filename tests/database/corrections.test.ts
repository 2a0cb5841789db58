import { v7 } from "uuid";
import { describe, expect, it } from "vitest";
import { checkHouse } from "@/lib/service/check-house";
import { plotHistory } from "@/lib/service/plot-history";
import { trialLog } from "@/lib/service/trial-log";
import type { Day } from "@/lib/words/day";
import { type freshHouse, houseWithTrial, send, someFact } from "./fresh-house";

function lostIn(house: ReturnType<typeof freshHouse>, plotId: string): unknown {
  return house.database.$client
    .prepare("SELECT lost FROM stand WHERE cohort_id = ?")
    .pluck()
    .get(`${plotId}/2026-09-20`);
}

function loss(plotId: string, amount: number, changes = {}) {
  return someFact(plotId, { kind: "loss", cause: "cold", amount, ...changes });
}

describe("a correction", () => {
  it("takes the place of what it corrects; both stay in the history", () => {
    const { house, trial } = houseWithTrial();
    const plotId = trial.plots[0].id;
    const wrong = loss(plotId, 3);
    const right = loss(plotId, 1, { replaces: wrong.id });
    send(house, [wrong, right]);
    expect(lostIn(house, plotId)).toBe(1);
    expect(plotHistory(house, plotId)?.facts).toMatchObject([
      { id: wrong.id, state: "corrected", replacedBy: right.id },
      { id: right.id, state: "in force", replacedBy: null },
    ]);
  });

  it("may come home before what it corrects", () => {
    const { house, trial } = houseWithTrial();
    const plotId = trial.plots[0].id;
    const wrong = loss(plotId, 3);
    const right = loss(plotId, 1, { replaces: wrong.id });
    send(house, [right]);
    expect(lostIn(house, plotId)).toBe(1);
    send(house, [wrong]);
    expect(lostIn(house, plotId)).toBe(1);
  });

  it("of two, the last in fold order is in force, and both are shown", () => {
    const { house, trial } = houseWithTrial();
    const plotId = trial.plots[0].id;
    const wrong = loss(plotId, 3);
    const early = loss(plotId, 1, { replaces: wrong.id, seenOn: "2026-11-26" as Day });
    const late = loss(plotId, 2, { replaces: wrong.id, seenOn: "2026-11-27" as Day });
    send(house, [late, early, wrong]);
    expect(lostIn(house, plotId)).toBe(2);
    const states = plotHistory(house, plotId)?.facts.map(({ id, state, replacedBy }) => [
      id,
      state,
      replacedBy,
    ]);
    expect(states).toEqual([
      [wrong.id, "corrected", late.id],
      [early.id, "corrected", late.id],
      [late.id, "in force", null],
    ]);
  });

  it("that moves a fact to another plot changes both stands, whichever comes first", () => {
    for (const turned of [false, true]) {
      const { house, trial } = houseWithTrial();
      const [from, to] = trial.plots.map((plot) => plot.id);
      const wrong = loss(from, 2);
      const right = loss(to, 2, { replaces: wrong.id });
      for (const fact of turned ? [right, wrong] : [wrong, right]) send(house, [fact]);
      expect([lostIn(house, from), lostIn(house, to)]).toEqual([0, 2]);
      expect(checkHouse(house).wrong).toEqual([]);
    }
  });

  it("of a correction, across three plots, leaves only the end of the chain", () => {
    const { house, trial } = houseWithTrial();
    const [a, b, c] = trial.plots.map((plot) => plot.id);
    const first = loss(a, 1);
    const second = loss(b, 1, { replaces: first.id });
    const third = loss(c, 1, { replaces: second.id });
    for (const fact of [third, first, second]) send(house, [fact]);
    expect([lostIn(house, a), lostIn(house, b), lostIn(house, c)]).toEqual([0, 0, 1]);
    expect(checkHouse(house).wrong).toEqual([]);
  });

  it("outdone by a rival in another plot falls, though what both correct never came home", () => {
    const { house, trial } = houseWithTrial();
    const [a, b] = trial.plots.map((plot) => plot.id);
    const missing = v7();
    const early = loss(a, 1, { replaces: missing, seenOn: "2026-11-26" as Day });
    const late = loss(b, 1, { replaces: missing, seenOn: "2026-11-27" as Day });
    send(house, [early]);
    expect(lostIn(house, a)).toBe(1);
    send(house, [late]);
    expect([lostIn(house, a), lostIn(house, b)]).toEqual([0, 1]);
    expect(checkHouse(house).wrong).toEqual([]);
  });
});

describe("a withdrawal", () => {
  it("says why, and the fact stays to be read", () => {
    const { house, trial } = houseWithTrial();
    const plotId = trial.plots[0].id;
    const wrong = loss(plotId, 2);
    const back = someFact(plotId, {
      kind: "withdrawn",
      amount: null,
      unit: null,
      replaces: wrong.id,
      note: "that was the next bed",
    });
    send(house, [wrong, back]);
    expect(lostIn(house, plotId)).toBe(0);
    expect(plotHistory(house, plotId)?.facts).toMatchObject([
      { id: wrong.id, state: "withdrawn", replacedBy: back.id },
      { id: back.id, state: "in force", note: "that was the next bed" },
    ]);
  });
});

describe("the log", () => {
  it("gives every fact once, page after page, the latest day first", () => {
    const { house, trialId, trial } = houseWithTrial();
    const days = ["2026-11-01", "2026-11-08", "2026-11-15"] as Day[];
    const facts = Array.from({ length: 250 }, (_, index) =>
      someFact(trial.plots[index % 12].id, {
        kind: "note",
        amount: null,
        unit: null,
        seenOn: days[index % 3],
      }),
    );
    for (let start = 0; start < facts.length; start += 100) send(house, facts.slice(start, start + 100));
    const read: string[] = [];
    const daysRead: Day[] = [];
    let pages = 0;
    for (let mark: string | undefined; ; ) {
      const page = trialLog(house, trialId, mark);
      pages += 1;
      read.push(...page.lines.map((line) => line.id));
      daysRead.push(...page.lines.map((line) => line.seenOn));
      if (page.nextBefore === null) break;
      mark = page.nextBefore;
    }
    expect(pages).toBe(3);
    expect([...read].sort()).toEqual(facts.map((fact) => fact.id).sort());
    expect(daysRead).toEqual([...daysRead].sort().reverse());
  });

  it("starts at the top for a mark that is none", () => {
    const { house, trialId, trial } = houseWithTrial();
    send(house, [someFact(trial.plots[0].id)]);
    for (const mark of ["", "x", "2026-11-25", "2026-11-25.x", "2026-02-30.5", "'; --"])
      expect(trialLog(house, trialId, mark).lines).toHaveLength(1);
  });
});
