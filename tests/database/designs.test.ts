import { cpSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { openMigrated } from "@/db/migrate";
import { closeDatabase } from "@/db/open";
import { createTrial } from "@/lib/service/create-trial";
import { fieldPack } from "@/lib/service/field-pack";
import { proposeTrial } from "@/lib/service/propose-trial";
import { sketchTrial } from "@/lib/service/sketch-trial";
import { startGarden } from "@/lib/service/start-garden";
import { trialFindings } from "@/lib/service/trial-findings";
import { trialRecord } from "@/lib/service/trial-record";
import { trialView } from "@/lib/service/trial-view";
import type { TrialPlan } from "@/lib/words/trial-plan";
import {
  freshFolder,
  freshHouse,
  given,
  houseWithTrial,
  send,
  someFact,
  someGarden,
  somePlan,
} from "./fresh-house";

const names = [
  "Pennick",
  "Hollin",
  "Carrow",
  "Thornlea",
  "Tansy Mill",
  "Greyfriar",
  "Longstone",
  "Wick Hill",
];

function entries(count: number): TrialPlan["entries"] {
  return Array.from({ length: count }, (_, index) => ({
    variety: names[index] ?? `Seedling ${index}`,
    packetClaim: null,
    role: index === 0 ? "check" : "entry",
  }));
}

const covers: TrialPlan["mainPlots"] = {
  factor: "cover",
  levels: [
    { cover: null, fromOn: null, untilOn: null },
    { cover: { name: "White fleece", kind: "fleece" }, fromOn: "2026-10-20", untilOn: "2027-03-15" },
  ],
};

const plans: Record<string, Partial<TrialPlan>> = {
  "a Latin square": {
    design: "latin",
    entries: entries(4),
    blocks: 4,
    beds: [{ name: "East bed", widthMm: 1_200, lengthMm: 6_000 }],
  },
  "covers on main plots": { design: "split-plot", entries: entries(4), blocks: 3, mainPlots: covers },
  "sowing dates on main plots": {
    design: "split-plot",
    entries: entries(4),
    blocks: 2,
    mainPlots: { factor: "sowing", levels: [{ sownOn: "2026-08-06" }, { sownOn: "2026-08-20" }] },
  },
  "a look-see bed": { design: "augmented", entries: entries(13), blocks: 3 },
  "small blocks": {
    design: "incomplete-blocks",
    entries: entries(12),
    blocks: 2,
    plotsPerBlock: 3,
    beds: [{ name: "East bed", widthMm: 1_200, lengthMm: 9_000 }],
  },
};

describe("a trial of another design", () => {
  it.each(Object.entries(plans))("is kept as %s with what the analysis needs of it", (_, changes) => {
    const { house, trialId, trial } = houseWithTrial(changes);
    const record = trialRecord(house, trialId);
    expect(trial.design).toBe(changes.design);
    expect(record?.design).toBe(changes.design);
    expect(record?.plots.map((plot) => plot.code).sort()).toEqual(
      trial.plots.map((plot) => plot.code).sort(),
    );
    const every = (test: (plot: NonNullable<typeof record>["plots"][number]) => boolean) =>
      record?.plots.every(test);
    expect(every((plot) => plot.block !== null && plot.row !== null && plot.column !== null)).toBe(true);
    expect(every((plot) => (plot.mainPlot !== null) === (changes.design === "split-plot"))).toBe(true);
    expect(every((plot) => (plot.replicate !== null) === (changes.design === "incomplete-blocks"))).toBe(
      true,
    );
    const stands = trial.plots.map((plot) =>
      someFact(plot.id, { amount: plot.plants, seenOn: record?.assessments[0].dueOn }),
    );
    expect(send(house, stands).every((reply) => reply.answer === "recorded")).toBe(true);
    expect(trialFindings(house, trialId, {})).not.toBeNull();
  });

  it("says of every plot which cover it was dealt", () => {
    const { house, trialId, trial } = houseWithTrial({ ...plans["covers on main plots"], covers: [] });
    const record = trialRecord(house, trialId);
    const under = (cover: string | null) => record?.plots.filter((plot) => plot.cover === cover).length;
    expect([under("White fleece"), under(null)]).toEqual([12, 12]);
    for (const block of [1, 2, 3]) {
      const plots = trial.plots.filter((plot) => plot.block === block);
      expect(plots.filter((plot) => plot.under === "open ground")).toHaveLength(4);
    }
    expect(trial.levels.map((level) => level.words)).toEqual(["open ground", "White fleece"]);
    expect(trial.levels[1]).toMatchObject({ fromOn: "2026-10-20", untilOn: "2027-03-15" });
  });

  it("tells a phone of a compared cover for as long as it stands", () => {
    const { house } = houseWithTrial({ ...plans["covers on main plots"], covers: [] });
    const coversOn = (instant: string) => {
      house.at = instant as typeof house.at;
      return fieldPack(house).beds.map((bed) => bed.covers);
    };
    expect(coversOn("2026-10-19T09:00:00.000Z")).toEqual([[]]);
    expect(coversOn("2026-10-20T09:00:00.000Z")).toEqual([["White fleece"]]);
    expect(coversOn("2027-03-16T09:00:00.000Z")).toEqual([[]]);
  });

  it("says of every plot when it was sown", () => {
    const { house, trialId } = houseWithTrial(plans["sowing dates on main plots"]);
    const record = trialRecord(house, trialId);
    const sown = (day: string) => record?.plots.filter((plot) => plot.sownOn === day).length;
    expect([sown("2026-08-06"), sown("2026-08-20")]).toEqual([8, 8]);
    const sowings = house.database.$client.prepare("SELECT count(*) FROM sowing").pluck().get();
    expect(sowings).toBe(8);
  });

  it("keeps guards, what is in the way, the gradient and companions", () => {
    const { trial } = houseWithTrial({
      gradient: "across",
      guardRows: 1,
      blocks: 2,
      beds: [
        { name: "East bed", widthMm: 1_200, lengthMm: 6_000, takenUp: [{ fromMm: 2_000, toMm: 2_400 }] },
      ],
      companions: [
        { name: "Spring onions", habit: "slow and upright", sownOn: "2026-08-01", betweenPlantsMm: 100 },
      ],
    });
    expect(trial).toMatchObject({
      gradient: "across",
      guardRows: 1,
      beds: [{ takenUp: [{ fromMm: 2_000, toMm: 2_400 }] }],
      companions: [{ name: "Spring onions", habit: "slow and upright" }],
    });
    for (const plot of trial.plots) {
      expect(plot.yMm >= 250 && plot.yMm + plot.lengthMm <= 5_750).toBe(true);
      expect(plot.xMm >= 300 && plot.xMm + plot.widthMm <= 900).toBe(true);
      expect(plot.yMm + plot.lengthMm <= 2_000 || plot.yMm >= 2_400).toBe(true);
    }
  });

  it.each([
    ["design", { mainPlots: covers }],
    ["mainPlots", { design: "split-plot" }],
    ["blocks", { design: "latin", blocks: 2 }],
    [
      "entries.check",
      {
        design: "augmented",
        entries: somePlan().entries.map((entry) => ({ ...entry, role: "entry" })),
        rule: { ...somePlan().rule, yieldFloor: null },
      },
    ],
    ["plotsPerBlock", { design: "incomplete-blocks", blocks: 2, plotsPerBlock: 2 }],
    [
      "beds.0.takenUp.0.toMm",
      {
        beds: [{ name: "West bed", widthMm: 1_200, lengthMm: 6_000, takenUp: [{ fromMm: 900, toMm: 100 }] }],
      },
    ],
    [
      "companions.0.name",
      { companions: [{ name: "Mustard greens", habit: "quick", sownOn: "2026-09-20", betweenPlantsMm: 50 }] },
    ],
    [
      "covers.0.kind",
      { covers: [{ name: "Long net", kind: "fleece", fromOn: "2026-09-20", untilOn: null }] },
    ],
    [
      "mainPlots.levels.1.cover",
      { design: "split-plot", mainPlots: { factor: "cover", levels: [covers.levels[0], covers.levels[0]] } },
    ],
  ] as [string, Partial<TrialPlan>][])("is refused at %s where the plan does not agree", (place, changes) => {
    const house = freshHouse();
    given(startGarden(house, someGarden));
    given(createTrial(house, somePlan({ clearBy: "2026-12-01" })));
    const later = { beds: [{ name: "West bed", widthMm: 1_200, lengthMm: 6_000 }], ...changes };
    expect(createTrial(house, somePlan(later))).toMatchObject({ ok: false, faults: [{ place }] });
  });
});

describe("a file of the version before", () => {
  it("keeps its trials, and takes the new designs", () => {
    const folder = freshFolder();
    const shipped = join(import.meta.dirname, "..", "..", "db", "migrations");
    const before = join(folder, "migrations");
    mkdirSync(join(before, "meta"), { recursive: true });
    cpSync(join(shipped, "0000_lay_the_ground.sql"), join(before, "0000_lay_the_ground.sql"));
    const journal = JSON.parse(readFileSync(join(shipped, "meta", "_journal.json"), "utf8"));
    const first = { ...journal, entries: journal.entries.slice(0, 1) };
    writeFileSync(join(before, "meta", "_journal.json"), JSON.stringify(first));
    const file = join(folder, "garden.sqlite");
    const old = openMigrated(file, "first", before).database;
    old.$client.exec(`BEGIN;
      INSERT INTO garden VALUES ('g', 'Hazel Clough', 54.2, -2.3, 190, 'Europe/London', 0, '2026-08-01T09:00:00.000Z');
      INSERT INTO bed VALUES ('b', 'g', 'East bed', 1200, 6000, 'open ground', 1);
      INSERT INTO crop VALUES ('c', 'kale', NULL, NULL);
      INSERT INTO variety VALUES ('v', 'c', 'Pennick', NULL);
      INSERT INTO trial VALUES ('t', 'Does it stand?', '', 'c', 'rcbd', 1, 1, 3, 250, 300, '2026-08-20', '2026-09-20',
        'took', '', NULL, NULL, '2026-08-01T09:00:00.000Z', NULL);
      INSERT INTO trial_bed VALUES ('t', 'b', 1);
      INSERT INTO assessment VALUES ('t', 'took', '2026-10-11');
      INSERT INTO entry VALUES ('e', 't', 'v', 'check', 1);
      INSERT INTO plot VALUES ('p', 't', 'b', 'e', 'A1', 1, NULL, 1, 1, 0, 0, 300, 750, 3, 1);
      COMMIT;`);
    closeDatabase(old);
    const { database, backup } = openMigrated(file, "second");
    expect(backup).not.toBeNull();
    const house = { ...freshHouse(), database };
    expect(trialView(house, "t")).toMatchObject({
      design: "rcbd",
      plots: [{ code: "A1", under: null }],
      levels: [],
      guardRows: 0,
      gradient: null,
      companions: [],
    });
    const beds = [{ name: "West bed", widthMm: 1_200, lengthMm: 9_000 }];
    const made = given(createTrial(house, somePlan({ ...plans["small blocks"], beds })));
    expect(trialView(house, made.trialId)?.plotsPerBlock).toBe(3);
    closeDatabase(database);
  });
});

describe("what is proposed", () => {
  function proposed(changes: Partial<TrialPlan> & { plantsToHand?: number }) {
    const house = freshHouse();
    given(startGarden(house, someGarden));
    const { design: _, plotsPerBlock: __, ...plan } = somePlan(changes);
    return given(proposeTrial(house, { ...plan, ...changes }));
  }

  it("is whole blocks for a few varieties, with the reason", () => {
    expect(proposed({ entries: entries(5) })).toMatchObject({ design: "rcbd", plotsPerBlock: null });
    expect(proposed({ entries: entries(5) }).why).toContain("one bad corner cannot decide");
  });

  it("is a split plot where covers are compared", () => {
    const proposal = proposed({ entries: entries(4), mainPlots: covers });
    expect(proposal.design).toBe("split-plot");
    expect(proposal.plans[0].blocks).toBeGreaterThan(1);
  });

  it("is small blocks for many varieties, and a look-see bed where there is no room for two plots of each", () => {
    const wide = [{ name: "Field", widthMm: 1_500, lengthMm: 30_000 }];
    expect(proposed({ entries: entries(16), beds: wide })).toMatchObject({
      design: "incomplete-blocks",
      plotsPerBlock: 4,
    });
    expect(
      proposed({ entries: entries(16), beds: [{ name: "Bed", widthMm: 1_200, lengthMm: 2_400 }] }),
    ).toMatchObject({
      design: "augmented",
    });
  });

  it("asks for no more plants than there are", () => {
    for (const plan of proposed({ entries: entries(5), plantsToHand: 10 }).plans)
      expect(plan.blocks * plan.plantsPerPlot).toBeLessThanOrEqual(10);
    expect(proposed({ entries: entries(9), plantsToHand: 4 }).design).toBe("augmented");
  });

  it("is drawn before it is saved just as it is dealt", () => {
    for (const changes of Object.values(plans)) {
      const plan = somePlan(changes);
      const sketch = given(sketchTrial(plan));
      const { trial } = houseWithTrial(changes);
      const entryNames = new Map(trial.entries.map((entry) => [entry.id, entry.variety]));
      const kept = new Map(
        trial.plots.map((plot) => [plot.code, [entryNames.get(plot.entryId), plot.under]]),
      );
      for (const plot of sketch.plots) expect(kept.get(plot.code)).toEqual([plot.variety, plot.under]);
    }
  });
});
