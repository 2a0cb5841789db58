import { describe, expect, it } from "vitest";
import { inOneAct, openDatabase } from "@/db/open";
import { createTrial } from "@/lib/service/create-trial";
import { fieldPack } from "@/lib/service/field-pack";
import { gardenView } from "@/lib/service/garden-view";
import { openDemo } from "@/lib/service/open-demo";
import { planningChoices } from "@/lib/service/planning-choices";
import { startGarden } from "@/lib/service/start-garden";
import { trialRecord } from "@/lib/service/trial-record";
import { trialView } from "@/lib/service/trial-view";
import { whileUnchanged } from "@/lib/service/while-unchanged";
import type { TrialPlan } from "@/lib/words/trial-plan";
import { freshHouse, given, houseWithTrial, send, someFact, someGarden, somePlan } from "./fresh-house";

type House = ReturnType<typeof freshHouse>;

function rowsIn(house: House): unknown {
  const tables = [
    "garden",
    "bed",
    "cover",
    "crop",
    "variety",
    "trial",
    "entry",
    "plot",
    "cohort",
    "stand",
    "rule",
  ];
  return tables.map((table) => house.database.$client.prepare(`SELECT count(*) FROM ${table}`).pluck().get());
}

describe("an empty file", () => {
  it("has no garden, no beds and no trials, and today is the day by UTC", () => {
    const house = freshHouse("2026-11-25T23:59:59.999Z");
    expect(gardenView(house)).toEqual({ garden: null, today: "2026-11-25", beds: [], trials: [] });
    expect(fieldPack(house)).toMatchObject({ gardenName: "", beds: [], trials: [], facts: [] });
    expect(createTrial(house, somePlan())).toMatchObject({ ok: false, faults: [{ place: "garden" }] });
  });

  it("takes one garden and no second", () => {
    const house = freshHouse();
    given(startGarden(house, someGarden));
    expect(gardenView(house).garden).toMatchObject({ name: "Hazel Clough", isDemo: false });
    expect(startGarden(house, { ...someGarden, name: "Another" })).toMatchObject({
      ok: false,
      faults: [{ place: "name", found: "Hazel Clough" }],
    });
  });

  it.each([
    ["name", { name: "  " }],
    ["name", { name: "x".repeat(81) }],
    ["timeZone", { timeZone: "Mars/Olympus" }],
    ["timeZone", { timeZone: "" }],
    ["latitude", { latitude: 91 }],
    ["latitude", { latitude: Number.NaN }],
    ["longitude", { longitude: -181 }],
    ["altitudeM", { altitudeM: 9_000 }],
    ["altitudeM", { altitudeM: 1.5 }],
  ])("refuses a garden with a wrong %s: %o", (place, change) => {
    const house = freshHouse();
    expect(startGarden(house, { ...someGarden, ...change })).toMatchObject({
      ok: false,
      faults: [{ place }],
    });
    expect(gardenView(house).garden).toBeNull();
  });

  it("takes the demo whole or not at all, and never over a garden", () => {
    const house = freshHouse();
    house.loadDemo = () => {
      given(startGarden(house, { ...someGarden, isDemo: true }));
      throw new Error("the demo broke off");
    };
    expect(() => openDemo(house)).toThrow("the demo broke off");
    expect(gardenView(house).garden).toBeNull();
    house.loadDemo = () => void given(startGarden(house, { ...someGarden, isDemo: true }));
    given(openDemo(house));
    expect(gardenView(house).garden?.isDemo).toBe(true);
    expect(openDemo(house).ok).toBe(false);
  });
});

describe("today", () => {
  it.each([
    ["Europe/London", "2026-07-01T23:10:00.000Z", "2026-07-02"],
    ["Europe/London", "2026-12-01T23:10:00.000Z", "2026-12-01"],
    ["Pacific/Auckland", "2026-11-25T12:00:00.000Z", "2026-11-26"],
    ["America/Los_Angeles", "2026-11-25T07:00:00.000Z", "2026-11-24"],
  ])("in %s at %s is %s", (timeZone, now, day) => {
    const house = freshHouse(now);
    given(startGarden(house, { ...someGarden, timeZone }));
    expect(gardenView(house).today).toBe(day);
  });
});

describe("making a trial", () => {
  it("stores what was planned and dealt", () => {
    const { trial } = houseWithTrial();
    expect(trial).toMatchObject({
      question: "Which mustard stands the winter in the east bed?",
      crop: "mustard greens",
      state: "running",
      seed: 20261125,
      beds: [{ name: "East bed", widthMm: 1_200, lengthMm: 6_000 }],
      covers: [{ name: "Long net", kind: "insect netting", fromOn: "2026-09-20", untilOn: null }],
      rule: { version: 1, survivalFloor: 0.7, qualities: [{ trait: "vigour", weight: "counts for" }] },
      firstObservationOn: null,
    });
    expect(trial.entries.map(({ variety, role }) => [variety, role])).toEqual([
      ["Pennick", "check"],
      ["Hollin", "entry"],
      ["Carrow", "tender-check"],
    ]);
    expect(trial.plots).toHaveLength(12);
    for (const block of [1, 2, 3, 4]) {
      const dealt = trial.plots.filter((plot) => plot.block === block).map((plot) => plot.entryId);
      expect(dealt.sort()).toEqual(trial.entries.map((entry) => entry.id).sort());
    }
  });

  it("deals the same layout again from the same seed, and another from another", () => {
    const deal = (seed: number) => {
      const { trial } = houseWithTrial({ seed });
      const position = new Map(trial.entries.map((entry, index) => [entry.id, index]));
      return trial.plots.map((plot) => [plot.code, position.get(plot.entryId)]);
    };
    expect(deal(1)).toEqual(deal(1));
    expect(deal(1)).not.toEqual(deal(2));
  });

  it("gives every plot its cohort and its stand", () => {
    const { house } = houseWithTrial();
    const stands = house.database.$client.prepare("SELECT standing, lost FROM stand").all();
    expect(stands).toEqual(Array(12).fill({ standing: 3, lost: 0 }));
  });

  it("knows beds, covers, crops and varieties again by name, whatever their capitals", () => {
    const { house } = houseWithTrial({ clearBy: "2026-10-01" });
    given(
      createTrial(
        house,
        somePlan({
          crop: "Mustard Greens",
          beds: [{ name: "east bed", widthMm: 1_200, lengthMm: 6_000 }],
          covers: [{ name: "LONG NET", kind: "Insect netting", fromOn: "2026-10-02", untilOn: null }],
          entries: [
            { variety: "pennick", packetClaim: null, role: "check" },
            { variety: "Thornlea", packetClaim: "Late to bolt.", role: "entry" },
          ],
          plantedOn: "2026-10-02",
        }),
      ),
    );
    expect(planningChoices(house)).toMatchObject({
      crops: ["mustard greens"],
      beds: [{ name: "East bed" }],
      covers: [{ name: "Long net", kind: "insect netting" }],
      varietiesByCrop: {
        "mustard greens": [
          { name: "Carrow", packetClaim: null },
          { name: "Hollin", packetClaim: null },
          { name: "Pennick", packetClaim: "Stands hard frost." },
          { name: "Thornlea", packetClaim: "Late to bolt." },
        ],
      },
    });
  });

  const entries = somePlan().entries;
  const misfits: [string, Partial<TrialPlan> | Record<string, unknown>][] = [
    ["question", { question: "" }],
    ["question", { question: "x".repeat(301) }],
    ["question", { question: 7 }],
    ["entries", { entries: entries.slice(0, 1) }],
    ["entries.1.variety", { entries: [entries[0], { ...entries[1], variety: "" }] }],
    ["entries.1.variety", { entries: [entries[0], { ...entries[1], variety: "pennick" }] }],
    ["entries.1.role", { entries: [entries[0], { ...entries[1], role: "check" }] }],
    ["beds", { beds: [] }],
    ["beds.0.widthMm", { beds: [{ name: "New", widthMm: 5, lengthMm: 6_000 }] }],
    ["beds.0.lengthMm", { beds: [{ name: "New", widthMm: 1_200, lengthMm: Number.POSITIVE_INFINITY }] }],
    ["beds.1.name", { beds: Array(2).fill({ name: "New", widthMm: 1_200, lengthMm: 6_000 }) }],
    ["blocks", { blocks: 0 }],
    ["blocks", { blocks: 41 }],
    ["plantsPerPlot", { plantsPerPlot: 2.5 }],
    ["betweenPlantsMm", { betweenPlantsMm: -3 }],
    ["seed", { seed: 4_294_967_296 }],
    ["design", { design: "chess" }],
    ["sownOn", { sownOn: "2026-02-30" }],
    ["plantedOn", { plantedOn: "2026-08-01" }],
    ["clearBy", { clearBy: "2026-09-20" }],
    ["fallbackOn", { fallbackOn: "2026-08-01" }],
    ["assessments", { assessments: [] }],
    ["assessments.0.dueOn", { assessments: [{ name: "regrowth", dueOn: "2026-09-01" }] }],
    ["decidingAssessment", { decidingAssessment: "midwinter" }],
    ["covers.0.untilOn", { covers: [{ name: "N", kind: "k", fromOn: "2026-09-20", untilOn: "2026-09-19" }] }],
    ["rule.sureness", { rule: { ...somePlan().rule, sureness: 1 } }],
    ["rule.survivalFloor", { rule: { ...somePlan().rule, survivalFloor: 70 } }],
    ["rule.yieldFloor", { entries: entries.slice(1) }],
  ];
  it.each(misfits)("is refused at %s: %o, and nothing is stored", (place, change) => {
    const house = freshHouse();
    given(startGarden(house, someGarden));
    const before = rowsIn(house);
    const outcome = createTrial(house, { ...somePlan(), ...change });
    expect(outcome.ok ? [] : outcome.faults.map((fault) => fault.place)).toContain(place);
    expect(rowsIn(house)).toEqual(before);
  });

  it("lists every fault at once", () => {
    const house = freshHouse();
    given(startGarden(house, someGarden));
    const outcome = createTrial(house, { ...somePlan(), question: "", blocks: 0, sownOn: "yesterday" });
    expect(outcome).toEqual({
      ok: false,
      faults: [
        { place: "question", found: "nothing", wanted: "an answer" },
        { place: "blocks", found: "0", wanted: "1 or more" },
        { place: "sownOn", found: "yesterday", wanted: "a day such as 2027-03-04" },
      ],
    });
  });

  it("is refused when the bed is too small, with the numbers, and nothing is stored", () => {
    const house = freshHouse();
    given(startGarden(house, someGarden));
    const before = rowsIn(house);
    const outcome = createTrial(
      house,
      somePlan({ beds: [{ name: "Pot", widthMm: 1_000, lengthMm: 1_000 }] }),
    );
    expect(outcome.ok ? [] : outcome.faults).toHaveLength(1);
    expect(JSON.stringify(outcome)).toMatch(/\d/);
    expect(rowsIn(house)).toEqual(before);
  });

  it("is refused on a known bed of another size", () => {
    const { house } = houseWithTrial({ clearBy: "2026-10-01" });
    const beds = [{ name: "East bed", widthMm: 900, lengthMm: 6_000 }];
    expect(createTrial(house, somePlan({ beds, plantedOn: "2026-10-02" }))).toMatchObject({
      ok: false,
      faults: [{ place: "beds.0.widthMm", found: "90 cm", wanted: expect.stringContaining("1.2 m × 6 m") }],
    });
  });

  it("is refused where another trial stands, until its ground is free", () => {
    const { house } = houseWithTrial();
    const next = {
      sownOn: "2027-03-01",
      assessments: [{ name: "regrowth", dueOn: "2027-09-20" }],
      clearBy: null,
    };
    expect(createTrial(house, { ...somePlan(), ...next, plantedOn: "2027-05-01" })).toMatchObject({
      ok: false,
      faults: [{ place: "beds.0.name", wanted: expect.stringContaining("Which mustard") }],
    });
    const outcome = given(createTrial(house, { ...somePlan(), ...next, plantedOn: "2027-05-02" }));
    expect(trialView(house, outcome.trialId)?.state).toBe("planned");
  });
});

describe("a planned trial", () => {
  it("runs from its planting day, or from its first fact", () => {
    const { house, trialId, trial } = houseWithTrial({
      plantedOn: "2026-11-30",
      assessments: somePlan().assessments.slice(1),
    });
    const state = () => gardenView(house).trials[0].state;
    expect(state()).toBe("planned");
    const plots = () => fieldPack(house).beds.flatMap((bed) => bed.plots);
    expect(plots()).toEqual([]);
    house.at = "2026-11-30T00:00:00.000Z" as never;
    expect(state()).toBe("running");
    house.at = "2026-11-25T09:00:00.000Z" as never;
    send(house, [someFact(trial.plots[0].id)]);
    expect(state()).toBe("running");
    expect(trialView(house, trialId)?.state).toBe("running");
  });
});

describe("the garden's list of trials", () => {
  it("tells the next assessment, and the verdicts owed once the ground is wanted back", () => {
    const { house } = houseWithTrial();
    const line = () => gardenView(house).trials[0];
    expect(line()).toMatchObject({
      bedNames: ["East bed"],
      nextAssessment: { name: "regrowth", dueOn: "2027-03-20" },
      verdictsOwed: 0,
    });
    house.at = "2027-05-01T09:00:00.000Z" as never;
    expect(line()).toMatchObject({ nextAssessment: null, verdictsOwed: 1 });
  });
});

describe("the field pack", () => {
  it("holds the plots of running trials, their facts and what is asked of them", () => {
    const { house, trialId, trial } = houseWithTrial();
    const wrong = someFact(trial.plots[0].id);
    const right = someFact(trial.plots[0].id, { amount: 3, replaces: wrong.id });
    const pick = someFact(trial.plots[1].id, { kind: "harvest", unit: "g", amount: 450, part: "leaf" });
    send(house, [wrong, right, pick]);
    const pack = fieldPack(house);
    expect(pack).toMatchObject({
      gardenName: "Hazel Clough",
      timeZone: "Europe/London",
      today: "2026-11-25",
      trials: [{ id: trialId, crop: "mustard greens", traits: ["vigour"], parts: ["leaf"] }],
      beds: [{ name: "East bed", covers: ["Long net"] }],
    });
    expect(pack.beds[0].plots).toHaveLength(12);
    expect(pack.facts).toEqual([wrong, right, pick]);
    expect(pack.causes.at(-1)).toEqual({ code: "unknown", words: "unknown" });
  });

  it("keeps its version while nothing changes, whatever the day, and changes it with any fact", () => {
    const { house, trial } = houseWithTrial();
    const { version } = fieldPack(house);
    house.at = "2026-11-26T09:00:00.000Z" as never;
    expect(fieldPack(house)).toMatchObject({ version, today: "2026-11-26" });
    send(house, [someFact(trial.plots[0].id)]);
    expect(fieldPack(house).version).not.toBe(version);
  });

  it("is the same one while nothing changes, and holds what came since", () => {
    const { house, trial } = houseWithTrial();
    const empty = fieldPack(house);
    expect(fieldPack(house)).toBe(empty);
    const first = someFact(trial.plots[0].id);
    send(house, [first]);
    expect(fieldPack(house).facts).toEqual([first]);
    const right = someFact(trial.plots[0].id, { amount: 3, replaces: first.id });
    send(house, [right]);
    expect(fieldPack(house).facts).toEqual([first, right]);
    expect(empty.facts).toEqual([]);
  });

  it("holds a correction that names a plot of another trial and came after it was first asked for", () => {
    const { house, trial } = houseWithTrial();
    const outcome = createTrial(
      house,
      somePlan({
        question: "In other ground?",
        beds: [{ name: "West bed", widthMm: 1_200, lengthMm: 6_000 }],
      }),
    );
    if (!outcome.ok) throw new Error(JSON.stringify(outcome.faults));
    const other = trialView(house, outcome.value.trialId)!;
    const wrong = someFact(trial.plots[0].id);
    send(house, [wrong]);
    expect(fieldPack(house).facts).toEqual([wrong]);
    const right = someFact(other.plots[0].id, { amount: 3, replaces: wrong.id });
    send(house, [right]);
    expect(fieldPack(house).facts).toEqual(expect.arrayContaining([wrong, right]));
  });
});

describe("what is kept while the file is unchanged", () => {
  it("is not what was read within an act that was undone", () => {
    const { house, trialId } = houseWithTrial();
    const closed = () => trialView(house, trialId)?.closedOn;
    expect(closed()).toBeNull();
    const act = () => {
      house.database.$client.prepare("UPDATE trial SET closed_on = '2026-11-25'").run();
      expect(closed()).toBe("2026-11-25");
      throw new Error("undone");
    };
    expect(() => inOneAct(house.database, act)).toThrow("undone");
    expect(closed()).toBeNull();
  });

  it("holds what another program wrote into the file", () => {
    const { house, trialId } = houseWithTrial();
    expect(trialView(house, trialId)?.clearBy).not.toBe("2027-06-01");
    const other = openDatabase(house.database.$client.name);
    other.$client.prepare("UPDATE trial SET clear_by = '2027-06-01'").run();
    other.$client.close();
    expect(trialView(house, trialId)?.clearBy).toBe("2027-06-01");
  });

  it("is tried again where it failed", async () => {
    const house = freshHouse();
    const times = { tried: 0 };
    const make = () => {
      times.tried += 1;
      return times.tried === 1 ? Promise.reject(new Error("not now")) : Promise.resolve("made");
    };
    await expect(whileUnchanged(house, ["it"], make)).rejects.toThrow("not now");
    expect(await whileUnchanged(house, ["it"], make)).toBe("made");
    expect(await whileUnchanged(house, ["it"], make)).toBe("made");
    expect(times.tried).toBe(2);
  });
});

describe("the record for the analysis", () => {
  it("holds plots, checks, facts and dates", () => {
    const { house, trialId, trial } = houseWithTrial();
    const fact = someFact(trial.plots[0].id);
    send(house, [fact]);
    const record = trialRecord(house, trialId);
    expect(record).toMatchObject({
      design: "rcbd",
      seed: 20261125,
      varieties: ["Pennick", "Hollin", "Carrow"],
      check: "Pennick",
      tenderCheck: "Carrow",
      facts: [fact],
      decidingAssessment: "regrowth",
      clearBy: "2027-05-01",
    });
    expect(record?.plots[0]).toMatchObject({ plants: 3, plantedOn: "2026-09-20", cover: "Long net" });
    expect(trialRecord(house, "nowhere")).toBeNull();
  });
});
