import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { inOneAct } from "@/db/open";
import { analyseTrial } from "@/lib/analysis/analyse-trial";
import { scriptData } from "@/lib/analysis/script-data";
import type { TrialRecord } from "@/lib/analysis/trial-record";
import { rFigures } from "@/lib/report/r-figures";
import { rScript } from "@/lib/report/r-script";
import { gardenView } from "@/lib/service/garden-view";
import { trialRecord } from "@/lib/service/trial-record";
import { loadHazelClough } from "@/seed/hazel-clough";
import { freshHouse } from "../../database/fresh-house";
import { goldenTrials } from "../golden/trials";

/**
 * Every demo trial's script, and those of invented trials in the designs that the demo lacks, run by R and compared with
 * the findings. What R said is kept under `run/`, to six digits: where R is not installed the findings are compared with
 * that. Where it is, the record is compared too; `npx vitest run --config tests/vitest.config.ts
 * tests/reference/r-script -u` makes it anew.
 */
const interpreter = "Rscript";
const hasR = spawnSync(interpreter, ["--version"]).status === 0;

/** Designs and troubles beside the demo's. */
const furtherNames = [
  "03-all-dead",
  "08-unreplicated",
  "09-cover-and-variety-depend",
  "13-incomplete-blocks",
  "18-a-plot-wiped-out",
  "21-freely-dealt-unlike-spreads",
  "24-a-plot-left-the-trial",
  "27-a-plot-wiped-out-under-covers",
];

function demoRecords(): { name: string; record: TrialRecord }[] {
  const house = freshHouse();
  inOneAct(house.database, () => loadHazelClough(house));
  return gardenView(house).trials.flatMap(({ id, crop, plantedOn }) => {
    const record = trialRecord(house, id);
    const isTold = record !== null && record.facts.length > 0;
    return isTold ? [{ name: `demo-${crop.replaceAll(/[^a-z]+/g, "-")}-${plantedOn}`, record }] : [];
  });
}

const records = [...demoRecords(), ...goldenTrials.filter(({ name }) => furtherNames.includes(name))].map(
  ({ name, record }) => ({ name, record }),
);

/** The script's own figures by name, as R printed them. */
function ranInR(script: string): { figures: Map<string, number>; notes: string[] } {
  const folder = mkdtempSync(join(tmpdir(), "r-script-"));
  try {
    const file = join(folder, "trial.R");
    writeFileSync(file, script);
    const run = spawnSync(interpreter, [file], { encoding: "utf8", maxBuffer: 1e8 });
    if (run.status !== 0) throw new Error(run.stderr);
    const lines = run.stdout.trim().split("\n");
    const rows = lines.filter((line) => line.startsWith('"') && !line.startsWith('"name"'));
    return {
      notes: lines.filter((line) => line.startsWith("# Left out")),
      figures: new Map(
        rows.map((line) => {
          const end = line.indexOf('",');
          return [line.slice(1, end), Number(line.slice(end + 2).split(",")[0])];
        }),
      ),
    };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function recorded(name: string): Map<string, number> {
  const text = readFileSync(fileURLToPath(new URL(`run/${name}.txt`, import.meta.url)), "utf8");
  return new Map(
    text
      .trim()
      .split("\n")
      .map((line) => {
        const [figure, value] = line.split("\t");
        return [figure, Number(value)];
      }),
  );
}

/**
 * How far a figure may lie from R's: six digits. R's own ptukey() stops at 2e-6; limits and p against the check at once
 * are drawn on one side or both where correlations have no product form: some 1e-5 of a p, 1e-4 of a standard error.
 */
function allowed(name: string, value: number, screen: Map<string, number>): number {
  const toCheck = /^yield\|[^|]+ less [^|]+\|(low|high|p)$/.exec(name);
  if (toCheck?.[1] === "p") return 1e-5 + 3e-5 * value;
  if (toCheck) return 1e-4 * (screen.get(name.replace(/(low|high)$/, "se")) ?? 0) + 1e-6 * Math.abs(value);
  if (/^yield\|(pair|main plots)\|.*\|p$/.test(name)) return 2e-6;
  return 1e-6 * Math.max(1e-3, Math.abs(value));
}

describe("the R script of a trial", () => {
  for (const { name, record } of records)
    it(`gives the screen's figures again: ${name}`, async () => {
      const findings = analyseTrial(record, { withoutRedealing: true });
      const data = scriptData(record);
      const screen = rFigures(findings, data.from);
      expect(screen.length).toBeGreaterThan(10);
      const told = hasR
        ? ranInR(rScript({ question: name, findings, data, rule: record.rule, leavingOut: null }))
        : { figures: recorded(name), notes: [] };
      expect(told.notes).toEqual([]);
      const wrong = screen.filter(([figure, value]) => {
        const own = told.figures.get(figure);
        return own === undefined || !(Math.abs(own - value) <= allowed(figure, value, new Map(screen)));
      });
      expect(
        wrong.map(([figure, value]) => `${figure}: ${value} here, ${told.figures.get(figure)} in R`),
      ).toEqual([]);
      if (!hasR) return;
      const record6 = [...told.figures].map(
        ([figure, value]) => `${figure}\t${Number(value.toPrecision(7))}`,
      );
      await expect(`${record6.join("\n")}\n`).toMatchFileSnapshot(`run/${name}.txt`);
    });
});
