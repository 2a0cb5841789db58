import { strFromU8, unzipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { GET as getExport } from "@/app/trials/[id]/export/route";
import { inOneAct } from "@/db/open";
import { analyseTrial } from "@/lib/analysis/analyse-trial";
import type { TrialRecord } from "@/lib/analysis/trial-record";
import { recordFromFiles } from "@/lib/command/record-from-files";
import { readObservations } from "@/lib/records/read-observations";
import { readPlots } from "@/lib/records/read-plots";
import { amendPlot } from "@/lib/service/amend-plot";
import { createTrial } from "@/lib/service/create-trial";
import { exportTrial, type TrialExport } from "@/lib/service/export-trial";
import { gardenView } from "@/lib/service/garden-view";
import { type House, shareHouse } from "@/lib/service/house";
import { trialFindings } from "@/lib/service/trial-findings";
import { trialRecord } from "@/lib/service/trial-record";
import { trialView } from "@/lib/service/trial-view";
import type { Day } from "@/lib/words/day";
import { loadHazelClough } from "@/seed/hazel-clough";
import { freshHouse, given, houseWithTrial, send, someFact, somePlan } from "./fresh-house";

/** What the analysis makes of the exported pair alone, as the command does when it is told the design. */
function analysed(
  files: TrialExport["files"],
  { design, check }: Pick<TrialRecord, "design" | "check">,
  at: Day | null,
) {
  const plots = given(readPlots(files["plots.csv"], "plots.csv")).rows;
  const observations = given(readObservations(files["observations.csv"], "observations.csv", plots)).rows;
  const record = given(recordFromFiles({ plots, observations, plotsFile: "plots.csv", design, check }));
  return analyseTrial(record, { at: at ?? undefined, withoutRedealing: true });
}

function exported(house: House, trialId: string): TrialExport {
  const made = exportTrial(house, trialId);
  if (!made) throw new Error("there is no such trial");
  return made;
}

/** By variety, whatever order varieties came in: a file has them as its plots lie. */
function byVariety<Row extends { variety: string }>(rows: readonly Row[] | undefined): Row[] {
  return [...(rows ?? [])].sort((one, other) => (one.variety < other.variety ? -1 : 1));
}

async function zipOf(trialId: string, query = ""): Promise<Record<string, string>> {
  const request = new Request(`http://127.0.0.1:3000/trials/${trialId}/export${query}`);
  const answer = await getExport(request, { params: Promise.resolve({ id: trialId }) });
  const files = unzipSync(new Uint8Array(await answer.arrayBuffer()));
  return Object.fromEntries(Object.entries(files).map(([name, bytes]) => [name, strFromU8(bytes)]));
}

describe("an exported trial", () => {
  it("has the same survival and losses, to the last digit, when its two files are analysed alone", () => {
    const house = freshHouse();
    inOneAct(house.database, () => loadHazelClough(house));
    let compared = 0;
    for (const { id } of gardenView(house).trials) {
      const record = trialRecord(house, id);
      const findings = trialFindings(house, id);
      // What an amendment leaves out is not told by the two files.
      if (!record || !findings?.survival || record.amendments.length > 0) continue;
      const alone = analysed(exported(house, id).files, record, findings.at);
      const [told, kept] = [alone.survival?.value, findings.survival.value];
      expect(byVariety(told?.varieties)).toEqual(byVariety(kept.varieties));
      expect(byVariety(told?.differences)).toEqual(byVariety(kept.differences));
      expect([told?.icc, told?.df, told?.smallestP]).toEqual([kept.icc, kept.df, kept.smallestP]);
      expect(byVariety(alone.losses?.value)).toEqual(byVariety(findings.losses?.value));
      compared += 1;
    }
    expect(compared).toBeGreaterThan(0);
  });

  it("keeps corrections, later plantings and what looks like a formula", () => {
    const { house, trial, trialId } = houseWithTrial();
    const [first, second] = trial.plots;
    const seen = someFact(first.id, { note: "=HYPERLINK(1)" });
    const corrected = someFact(first.id, { replaces: seen.id, amount: 3 });
    const filled = someFact(second.id, { kind: "added", amount: 1, cohortOn: "2026-10-05" as Day });
    send(house, [seen, corrected, filled]);
    const { files } = exported(house, trialId);
    expect(files["observations.csv"]).toContain("'=HYPERLINK(1)");
    const plots = given(readPlots(files["plots.csv"], "plots.csv")).rows;
    expect(given(readObservations(files["observations.csv"], "observations.csv", plots)).rows).toMatchObject([
      { id: seen.id, plot: first.code, note: "=HYPERLINK(1)", setOutOn: null },
      { id: corrected.id, replaces: seen.id, amount: 3 },
      { id: filled.id, plot: second.code, setOutOn: "2026-10-05" },
    ]);
  });

  it("tells a pick that was moved to another trial as withdrawn here", () => {
    const { house, trial, trialId } = houseWithTrial();
    const other = given(
      createTrial(house, somePlan({ beds: [{ name: "West bed", widthMm: 1_200, lengthMm: 6_000 }] })),
    );
    const elsewhere = trialView(house, other.trialId)?.plots[0].id ?? "";
    const pick = { kind: "harvest", unit: "g", part: "leaf", amount: 300 } as const;
    const booked = someFact(trial.plots[0].id, pick);
    const moved = someFact(elsewhere, { ...pick, replaces: booked.id });
    send(house, [booked, moved]);
    const { files } = exported(house, trialId);
    const plots = given(readPlots(files["plots.csv"], "plots.csv")).rows;
    expect(given(readObservations(files["observations.csv"], "observations.csv", plots)).rows).toMatchObject([
      { id: booked.id, kind: "harvest", amount: 300 },
      { id: moved.id, kind: "withdrawn", amount: null, replaces: booked.id, plot: trial.plots[0].code },
    ]);
  });

  it("comes as a zip whose description names every file, column and person, and the licence that was asked for", async () => {
    const { house, trial, trialId } = houseWithTrial();
    send(house, [someFact(trial.plots[0].id)]);
    const by = "Ina";
    given(
      amendPlot(house, {
        trialId,
        plotId: trial.plots[1].id,
        kind: "excluded",
        fromOn: "2026-11-25",
        reason: "Trodden on.",
        by,
      }),
    );
    shareHouse(house);
    const files = await zipOf(trialId, "?licence=CC-BY-4.0");
    const described = JSON.parse(files["datapackage.json"]);
    expect(described).toMatchObject({
      $schema: "https://datapackage.org/profiles/2.0/datapackage.json",
      name: "trial-2026-09-20-mustard-greens",
      licenses: [{ name: "CC-BY-4.0" }],
      contributors: [{ title: "Ruth" }],
    });
    const listed = described.resources.map((resource: { path: string }) => resource.path);
    expect(Object.keys(files).sort()).toEqual(["datapackage.json", ...listed].sort());
    for (const { path, schema } of described.resources) {
      const names = schema.fields.map((field: { name: string }) => field.name);
      expect(files[path].split("\r\n")[0]).toBe(names.join(","));
    }
    expect(described.resources[1].schema.foreignKeys).toEqual([
      { fields: ["plot"], reference: { resource: "plots", fields: ["plot"] } },
      { fields: ["replaces"], reference: { fields: ["id"] } },
    ]);
    expect(JSON.parse((await zipOf(trialId, "?licence=mine"))["datapackage.json"]).licenses).toBeUndefined();
  });

  it("of which nothing was recorded has an observations file of its first row only", () => {
    const { house, trialId } = houseWithTrial();
    const { files } = exported(house, trialId);
    expect(files["observations.csv"]).toMatch(/^seen_on,plot,[a-z_,]+\r\n$/);
  });

  it("that is not there is answered with 404", async () => {
    shareHouse(houseWithTrial().house);
    const request = new Request("http://127.0.0.1:3000/trials/nowhere/export");
    expect((await getExport(request, { params: Promise.resolve({ id: "nowhere" }) })).status).toBe(404);
  });
});
