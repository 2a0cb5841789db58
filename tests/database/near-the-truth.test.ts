import { describe, expect, it } from "vitest";
import { inOneAct } from "@/db/open";
import { analyseTrial } from "@/lib/analysis/analyse-trial";
import type { TrialRecord } from "@/lib/analysis/trial-record";
import { gardenView } from "@/lib/service/garden-view";
import { trialRecord } from "@/lib/service/trial-record";
import { loadHazelClough } from "@/seed/hazel-clough";
import truth from "@/seed/truth.json";
import { freshHouse } from "./fresh-house";

interface Compared {
  of: string;
  low: number | null;
  high: number | null;
  truth: number;
}

/** The closed trials of the demo by the names under which their true values stand. */
function closedTrials(): { name: keyof typeof truth.trials; record: TrialRecord }[] {
  const house = freshHouse();
  inOneAct(house.database, () => loadHazelClough(house));
  return gardenView(house).trials.flatMap(({ id, crop, plantedOn, state }) => {
    const name = `${crop
      .replaceAll(/[^a-z ]/g, "")
      .replace("mustard greens", "mustard")
      .replaceAll(" ", "-")}-${plantedOn < "2025" ? "winter-before" : "last-winter"}`;
    const record = trialRecord(house, id);
    return state === "closed" && record && name in truth.trials
      ? [{ name: name as keyof typeof truth.trials, record }]
      : [];
  });
}

function compared(name: keyof typeof truth.trials, record: TrialRecord): Compared[] {
  const values: Record<string, { standing: number; gramsPerPlant: number }> = truth.trials[name].varieties;
  const { survival } = analyseTrial(record, { withoutRedealing: true });
  const harvest = analyseTrial(record, { at: record.clearBy ?? undefined, withoutRedealing: true }).yield;
  return [
    ...(survival?.value.varieties ?? []).map((one) => ({
      of: "share standing",
      low: one.low,
      high: one.high,
      truth: values[one.variety].standing,
    })),
    ...(survival?.value.differences ?? []).map((one) => ({
      of: "difference to the check",
      low: one.low,
      high: one.high,
      truth: values[one.variety].standing - values[one.reference].standing,
    })),
    ...(harvest?.value.varieties ?? []).map((one) => ({
      of: "grams a plant set out",
      low: one.low,
      high: one.high,
      truth: values[one.variety].gramsPerPlant,
    })),
  ].filter((one) => one.low !== null && one.high !== null);
}

describe("how near the demo's estimates came to the simulation's true values", () => {
  it("is as 95 % limits should be, and stands in a table", async () => {
    const all = closedTrials().flatMap(({ name, record }) =>
      compared(name, record).map((one) => ({ ...one, name })),
    );
    const isHeld = ({ low, high, truth: value }: Compared) =>
      (low as number) <= value && value <= (high as number);
    const kinds = [...new Set(all.map((one) => one.of))];
    const names = [...new Set(all.map((one) => one.name))].sort();
    const line = (label: string, some: Compared[]) =>
      `${label.padEnd(28)}${kinds
        .map((kind) => some.filter((one) => one.of === kind))
        .map((own) => `${own.filter(isHeld).length} of ${own.length}`.padStart(26))
        .join("")}`;
    const table = [
      "How many 95 % limits of the demo hold the true value that the simulation drew from (seed/truth.json)",
      "",
      `${"".padEnd(28)}${kinds.map((kind) => kind.padStart(26)).join("")}`,
      ...names.map((name) =>
        line(
          name,
          all.filter((one) => one.name === name),
        ),
      ),
      line("all", all),
      "",
    ];
    await expect(table.join("\n")).toMatchFileSnapshot("near-the-truth.txt");
    expect(all.filter(isHeld).length / all.length).toBeGreaterThan(0.9);
  });
});
