import { beforeAll, describe, expect, it } from "vitest";
import { inOneAct } from "@/db/open";
import { analyseTrial } from "@/lib/analysis/analyse-trial";
import type { TrialRecord } from "@/lib/analysis/trial-record";
import { standAt } from "@/lib/journal/stand-at";
import { checkHouse } from "@/lib/service/check-house";
import { type GardenView, gardenView } from "@/lib/service/garden-view";
import { trialRecord } from "@/lib/service/trial-record";
import { trialVerdicts } from "@/lib/service/trial-verdicts";
import type { Day } from "@/lib/words/day";
import { loadHazelClough } from "@/seed/hazel-clough";
import truth from "@/seed/truth.json";
import { freshHouse } from "./fresh-house";

/** One garden for all tests here: none of them writes. */
function loadedOnce() {
  const house = freshHouse();
  inOneAct(house.database, () => loadHazelClough(house));
  const garden = gardenView(house);
  const record = (crop: string, plantedIn: string) => {
    const line = garden.trials.find((trial) => trial.crop === crop && trial.plantedOn.startsWith(plantedIn));
    return trialRecord(house, line?.id ?? "") as TrialRecord;
  };
  return {
    garden,
    checked: checkHouse(house),
    verdicts: garden.trials.flatMap((trial) => trialVerdicts(house, trial.id)),
    mustard: record("mustard greens", "2025"),
    kale: record("kale", "2025"),
    lambsLettuce: record("lamb's lettuce", "2025"),
    leeks: record("leeks", "2025"),
    chard: record("chard", "2025"),
    second: record("mustard greens", "2026"),
    beans: record("broad beans", "2027"),
  };
}

let demo: ReturnType<typeof loadedOnce>;
beforeAll(() => {
  demo = loadedOnce();
});

function standOf(record: TrialRecord, code: string, day: Day | null = null) {
  const plot = record.plots.find((one) => one.code === code);
  if (!plot) throw new Error(`no plot ${code}`);
  return standAt({ id: plot.id, plants: plot.plants ?? 0, plantedOn: plot.plantedOn }, record.facts, day);
}

describe("Hazel Clough", () => {
  it("is marked as a demo, and holds six closed trials, one running and one planned, with one verdict owed", () => {
    const { garden } = demo;
    expect(garden.garden).toMatchObject({ name: "Hazel Clough", isDemo: true });
    const lines = garden.trials.map((trial): [string, GardenView["trials"][number]["state"], number] => [
      trial.crop,
      trial.state,
      trial.verdictsOwed,
    ]);
    expect(lines.toSorted()).toEqual([
      ["broad beans", "planned", 0],
      ["chard", "closed", 0],
      ["chard", "closed", 0],
      ["kale", "closed", 0],
      ["lamb's lettuce", "closed", 0],
      ["leeks", "closed", 0],
      ["mustard greens", "closed", 1],
      ["mustard greens", "running", 0],
    ]);
    expect(demo.verdicts).toHaveLength(19);
    expect(demo.beans.facts).toEqual([]);
  });

  it("derives the same stands afresh as it has stored", () => {
    expect(demo.checked.wrong).toEqual([]);
  });

  it("holds what real records hold", () => {
    const { mustard, second, kale } = demo;
    expect(mustard.amendments).toHaveLength(1);
    expect(standOf(mustard, "D2").losses.map((loss) => loss.cause)).toContain("wind");
    expect(standOf(mustard, "B4")).toMatchObject({ setOut: 6, added: 1 });
    expect(standOf(mustard, "B1").fillings).toHaveLength(1);
    expect(standOf(kale, "B3").added).toBe(4);
    const corrections = mustard.facts.filter((fact) => fact.replaces !== null);
    expect(corrections).toHaveLength(1);
    expect(standOf(mustard, "D1", "2025-10-26" as Day).standing).toBe(6);
    expect(mustard.facts.some((fact) => fact.kind === "not-seen")).toBe(true);
    expect(standOf(mustard, "A4").removals).toMatchObject([{ reason: "not-true", plants: 1 }]);
    const harvests = mustard.facts.filter((fact) => fact.kind === "harvest");
    expect(harvests.some((fact) => fact.amount === 0)).toBe(true);
    expect(harvests.filter((fact) => fact.amount === null)).toHaveLength(1);
    expect(mustard.facts.some((fact) => fact.note?.startsWith("Whole East bed"))).toBe(true);
    const stands = mustard.plots.map((plot) => standOf(mustard, plot.code));
    expect(stands.some((stand) => stand.regrowths.length > 0)).toBe(true);
    expect(stands.some((stand) => stand.losses.some((loss) => loss.derived))).toBe(true);
    expect(stands.some((stand) => stand.firstFlowerStemOn !== null)).toBe(true);
    expect(standOf(second, "A5").unsettled).toBe(1);
  });

  it("fills gaps and nothing but gaps", () => {
    for (const record of [demo.mustard, demo.kale, demo.second])
      for (const fact of record.facts.filter((one) => one.kind === "added")) {
        const plot = record.plots.find((one) => one.id === fact.plotId);
        const { standing, fillings } = standOf(record, plot?.code ?? "", fact.seenOn);
        const filled = fillings.reduce((sum, filling) => sum + filling.standing, 0);
        expect(standing + filled).toBeLessThanOrEqual(plot?.plants ?? 0);
      }
  });

  it("has its rules set before its first observations, and nobody's facts left over", () => {
    for (const record of [demo.mustard, demo.kale, demo.second]) {
      expect(record.ruleChangedAfterData).toBe(false);
      expect(new Set(record.facts.map((fact) => `${fact.deviceId} ${fact.deviceSequence}`)).size).toBe(
        record.facts.length,
      );
      for (const plot of record.plots.filter((one) => one.code !== "A5"))
        expect(standOf(record, plot.code).unsettled).toBe(0);
    }
  });

  it("shows how near the estimates came: every true share lies in its interval, as 19 in 20 should", () => {
    const closed = [
      [demo.mustard, truth.trials["mustard-last-winter"]],
      [demo.kale, truth.trials["kale-last-winter"]],
      [demo.lambsLettuce, truth.trials["lambs-lettuce-last-winter"]],
      [demo.leeks, truth.trials["leeks-last-winter"]],
      [demo.chard, truth.trials["chard-last-winter"]],
    ] as const;
    const compared = closed.flatMap(([record, trial]) => {
      const { survival } = analyseTrial(record, { withoutRedealing: true });
      const values: Record<string, { standing: number }> = trial.varieties;
      return (survival?.value.varieties ?? []).map((estimate) => ({
        ...estimate,
        truth: values[estimate.variety].standing,
      }));
    });
    expect(compared).toHaveLength(26);
    const inside = compared.filter(
      (one) => one.low !== null && one.high !== null && one.low <= one.truth && one.truth <= one.high,
    );
    expect(inside.length).toBe(26);
    for (const { estimate, truth: share } of compared)
      expect(Math.abs((estimate ?? 0) - share)).toBeLessThan(0.3);
  });

  it("shows how near the weights came, over all picks before the bed was wanted", () => {
    const compared = (["mustard-last-winter", "kale-last-winter"] as const).flatMap((name) => {
      const record = name === "mustard-last-winter" ? demo.mustard : demo.kale;
      const at = record.clearBy as Day;
      const yieldOf = analyseTrial(record, { at, withoutRedealing: true }).yield;
      const values: Record<string, { gramsPerPlant: number }> = truth.trials[name].varieties;
      return (yieldOf?.value.varieties ?? []).map((mean) => ({
        ...mean,
        truth: values[mean.variety].gramsPerPlant,
      }));
    });
    const inside = compared.filter(
      (one) => one.low !== null && one.high !== null && one.low <= one.truth && one.truth <= one.high,
    );
    expect(compared).toHaveLength(9);
    expect(inside.length).toBeGreaterThanOrEqual(8);
  });
});
