import { describe, expect, it } from "vitest";
import { amendPlot } from "@/lib/service/amend-plot";
import { changeRule } from "@/lib/service/change-rule";
import { closeTrial } from "@/lib/service/close-trial";
import { trialRecord } from "@/lib/service/trial-record";
import { trialView } from "@/lib/service/trial-view";
import { given, houseWithTrial, send, someFact } from "./fresh-house";

const rule = { survivalFloor: 0.5, yieldFloor: null, sureness: 0.8, qualities: [] };

const changes = [
  "UPDATE plot SET code = 'Z9'",
  "UPDATE plot SET entry_id = (SELECT id FROM entry ORDER BY id DESC LIMIT 1)",
  "DELETE FROM plot",
  `INSERT INTO plot (id, trial_id, bed_id, entry_id, code, "row", column_number, x_mm, y_mm, width_mm, length_mm, plants,
     plant_rows) SELECT 'new', trial_id, bed_id, entry_id, 'Z9', 9, 9, 0, 0, 1, 1, 1, 1 FROM plot LIMIT 1`,
  "UPDATE entry SET role = 'entry'",
  "DELETE FROM entry",
  "UPDATE trial SET seed = 1",
  "UPDATE trial SET design = 'crd'",
  "UPDATE trial SET planted_on = '2026-10-01'",
  "UPDATE trial SET deciding_assessment = 'took'",
  "UPDATE trial_bed SET position = 2",
  "DELETE FROM trial_bed",
];

describe("the layout is a promise", () => {
  it.each(changes)("once the first fact is in, the file refuses: %s", (change) => {
    const { house, trial } = houseWithTrial();
    send(house, [someFact(trial.plots[0].id)]);
    expect(() => house.database.$client.prepare(change).run()).toThrow(/layout is fixed/);
  });

  it.each([
    "UPDATE main_level SET position = 9",
    "DELETE FROM main_level",
    "INSERT INTO main_level (id, trial_id, position, factor) SELECT 'new', trial_id, 9, factor FROM main_level",
    "UPDATE companion SET between_plants_mm = 200",
    "DELETE FROM companion",
    "INSERT INTO companion SELECT trial_id, 'Radish', habit, sown_on, between_plants_mm FROM companion",
    "UPDATE taken_up SET to_mm = 500",
    "DELETE FROM taken_up",
    "INSERT INTO taken_up SELECT trial_id, bed_id, 900, 950 FROM taken_up",
    "UPDATE trial SET gradient = 'across'",
    "UPDATE trial SET guard_rows = 1",
    "UPDATE trial SET path_side = 'right'",
    "UPDATE trial SET plots_per_block = 3",
  ])("of a split plot too, with what stands in the way and between: %s", (change) => {
    const { house, trial } = houseWithTrial({
      design: "split-plot",
      blocks: 2,
      plantsPerPlot: 2,
      beds: [{ name: "Split bed", widthMm: 1_200, lengthMm: 12_000, takenUp: [{ fromMm: 100, toMm: 400 }] }],
      companions: [
        { name: "Spring onions", habit: "slow and upright", sownOn: "2026-08-01", betweenPlantsMm: 100 },
      ],
      mainPlots: {
        factor: "cover",
        levels: [null, { name: "fleece", kind: "fleece" }].map((cover) => ({
          cover,
          fromOn: null,
          untilOn: null,
        })),
      },
    });
    const run = () => house.database.$client.prepare(change).run();
    send(house, [someFact(trial.plots[0].id)]);
    expect(run).toThrow(/layout is fixed/);
  });

  it("what was set out is fixed with the cohort's first fact", () => {
    const { house, trial } = houseWithTrial();
    send(house, [someFact(trial.plots[0].id)]);
    const change = house.database.$client.prepare("UPDATE cohort SET plants = 9 WHERE plot_id = ?");
    expect(() => change.run(trial.plots[0].id)).toThrow(/what was set out is fixed/);
  });

  it("the closing day, the questions and the dates ahead may still be written", () => {
    const { house, trial } = houseWithTrial();
    send(house, [someFact(trial.plots[0].id)]);
    const change = "UPDATE trial SET closed_on = '2027-05-01', clear_by = '2027-05-02'";
    expect(house.database.$client.prepare(change).run().changes).toBe(1);
  });
});

describe("an amendment", () => {
  it("takes a plot out of the reckoning with its day and reason, and the analysis sees it", () => {
    const { house, trialId, trial } = houseWithTrial();
    const plotId = trial.plots[3].id;
    send(house, [someFact(plotId)]);
    const amendment = {
      plotId,
      kind: "excluded",
      fromOn: "2026-11-20",
      reason: "drowned under the blown-off net",
    };
    given(amendPlot(house, { trialId, ...amendment, by: "Ruth" }));
    expect(trialRecord(house, trialId)?.amendments).toEqual([amendment]);
    expect(trialView(house, trialId)?.amendments).toMatchObject([{ ...amendment, by: "Ruth" }]);
  });

  it.each([
    ["reason", { reason: " " }],
    ["fromOn", { fromOn: "2026-02-30" }],
    ["kind", { kind: "closed" }],
    ["plotId", { plotId: "nowhere" }],
    ["plotId", { trialId: "another" }],
  ])("is refused without its %s", (place, change) => {
    const { house, trialId, trial } = houseWithTrial();
    const sound = {
      trialId,
      plotId: trial.plots[0].id,
      kind: "missing",
      fromOn: "2026-11-20",
      reason: "x",
      by: "",
    };
    expect(amendPlot(house, { ...sound, ...change })).toMatchObject({ ok: false, faults: [{ place }] });
    expect(trialView(house, trialId)?.amendments).toEqual([]);
  });
});

describe("a plot that was planted with another variety", () => {
  const amend = (plantedVariety: string) => {
    const { house, trialId, trial } = houseWithTrial();
    const [plot] = trial.plots;
    const dealt = trial.entries.find((entry) => entry.id === plot.entryId)?.variety ?? "";
    const other = trial.entries.find((entry) => entry.id !== plot.entryId)?.variety ?? "";
    const named = { dealt, other }[plantedVariety] ?? plantedVariety;
    const outcome = amendPlot(house, {
      trialId,
      plotId: plot.id,
      kind: "another variety",
      plantedVariety: named,
      fromOn: trial.plantedOn,
      reason: "the trays were changed over",
      by: "Ruth",
    });
    return { house, trialId, trial, plot, other, outcome };
  };

  it("counts for neither: the analysis leaves it out from that day and says what stood there", () => {
    const { house, trialId, plot, other, outcome } = amend("other");
    given(outcome);
    expect(trialView(house, trialId)?.amendments).toMatchObject([
      { kind: "another variety", plotId: plot.id, plantedVariety: other },
    ]);
    const record = trialRecord(house, trialId);
    expect(record?.amendments).toMatchObject([
      {
        plotId: plot.id,
        kind: "excluded",
        reason: `${other} was planted there; the trays were changed over`,
      },
    ]);
    expect(record?.plots.find((row) => row.id === plot.id)?.variety).not.toBe(other);
  });

  it("may hold one that is not in the trial", () => {
    const { house, trialId, outcome } = amend("a stray seedling");
    given(outcome);
    expect(trialView(house, trialId)?.amendments[0].plantedVariety).toBe("a stray seedling");
  });

  it.each(["", "dealt"])("is refused without its name, and where nothing was wrong: %s", (name) => {
    const { outcome } = amend(name);
    expect(outcome).toMatchObject({ ok: false, faults: [{ place: "plantedVariety" }] });
  });
});

describe("the decision rule", () => {
  it("is changed by a new version with its reason, beside the old one", () => {
    const { house, trialId } = houseWithTrial();
    expect(given(changeRule(house, trialId, { ...rule, reason: "too strict for two winters" }))).toEqual({
      version: 2,
    });
    const view = trialView(house, trialId);
    expect(view?.rules.map(({ version, survivalFloor }) => [version, survivalFloor])).toEqual([
      [1, 0.7],
      [2, 0.5],
    ]);
    expect(view?.rule).toMatchObject({ version: 2, reason: "too strict for two winters" });
  });

  it("changed after the first fact is told to the analysis; changed before it is not", () => {
    const { house, trialId, trial } = houseWithTrial();
    given(changeRule(house, trialId, { ...rule, reason: "thought again" }));
    send(house, [someFact(trial.plots[0].id, { recordedAt: "2026-11-26T08:00:00.000Z" as never })]);
    expect(trialRecord(house, trialId)?.ruleChangedAfterData).toBe(false);
    house.at = "2026-12-01T08:00:00.000Z" as never;
    given(changeRule(house, trialId, { ...rule, reason: "thought again" }));
    expect(trialRecord(house, trialId)?.ruleChangedAfterData).toBe(true);
  });

  it("asks for a reason", () => {
    const { house, trialId } = houseWithTrial();
    expect(changeRule(house, trialId, { ...rule, reason: "  " })).toMatchObject({
      ok: false,
      faults: [{ place: "reason", found: "nothing", wanted: "an answer" }],
    });
    const bare = `INSERT INTO rule SELECT trial_id, 2, survival_floor, yield_floor, sureness, qualities, NULL, set_at
      FROM rule`;
    expect(() => house.database.$client.prepare(bare).run()).toThrow(/CHECK constraint/);
  });
});

describe("closing a trial", () => {
  it("keeps its day and reason, once", () => {
    const { house, trialId, trial } = houseWithTrial();
    given(closeTrial(house, trialId, { reason: "the bed was wanted", by: "Ruth" }));
    expect(trialView(house, trialId)).toMatchObject({
      state: "closed",
      closedOn: "2026-11-25",
      amendments: [{ kind: "closed", plotId: null, reason: "the bed was wanted" }],
    });
    expect(closeTrial(house, trialId, { reason: "again", by: "Ruth" }).ok).toBe(false);
    expect(closeTrial(house, "nowhere", { reason: "again", by: "Ruth" }).ok).toBe(false);
    expect(send(house, [someFact(trial.plots[0].id)])).toMatchObject([{ answer: "recorded" }]);
  });
});
