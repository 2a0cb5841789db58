import { readFileSync } from "node:fs";
import { analyseTrial } from "@/lib/analysis/analyse-trial";
import type { YieldPer } from "@/lib/analysis/finding";
import { readObservations } from "@/lib/records/read-observations";
import { type PlotRow, readPlots } from "@/lib/records/read-plots";
import { readTable } from "@/lib/records/read-table";
import { jsonReport } from "@/lib/report/json-report";
import { plainTextReport } from "@/lib/report/plain-text-report";
import type { Fault } from "@/lib/words/fault";
import { type AnalyseArguments, analyseArguments } from "./analyse-arguments";
import { recordFromFiles } from "./record-from-files";

/**
 * `analyse plots.csv observations.csv`: the whole analysis of a trial from two files, without a database. Prints the
 * report, or JSON with `--json`. Whatever is wrong with arguments or files is listed on stderr, all of it, and nothing
 * is analysed: exit code 2.
 */
function main(given: string[]): number {
  const request = analyseArguments(given);
  if (!request.ok) return refuse(request.faults);
  const { plotsFile, observationsFile } = request.value;
  const texts = [plotsFile, observationsFile].map(readText);
  const unread = texts.flatMap((text) => (typeof text === "string" ? [] : [text]));
  if (unread.length > 0) return refuse(unread);
  return analyse(request.value, texts[0] as string, texts[1] as string);
}

function analyse(request: AnalyseArguments, plotsText: string, observationsText: string): number {
  const { plotsFile, observationsFile, at } = request;
  const plots = readPlots(plotsText, plotsFile);
  const known = plots.ok ? plots.value.rows : plotNames(plotsText, plotsFile);
  const observations = readObservations(observationsText, observationsFile, known);
  if (!plots.ok || !observations.ok)
    return refuse([...(plots.ok ? [] : plots.faults), ...(observations.ok ? [] : observations.faults)]);

  const record = recordFromFiles({
    plots: plots.value.rows,
    observations: observations.value.rows,
    plotsFile,
    design: request.design,
    check: request.check,
  });
  if (!record.ok) return refuse(record.faults);
  const findings = analyseTrial(record.value, {
    at: at ?? undefined,
    yieldPer: request.yieldPer ?? usualPer(plots.value.rows),
  });
  const unknownColumns = [
    ...plots.value.unknownColumns.map((column) => `${plotsFile}: ${column}`),
    ...observations.value.unknownColumns.map((column) => `${observationsFile}: ${column}`),
  ];
  console.log(
    request.json
      ? JSON.stringify(jsonReport(findings, unknownColumns), null, 2)
      : plainTextReport(findings, unknownColumns),
  );
  return 0;
}

/** Per plant set out, unless the file says of no plot how many plants there were. */
function usualPer(plots: PlotRow[]): YieldPer {
  return plots.every((plot) => plot.plants === null) ? "plot" : "plant";
}

/** Plots by name alone, so that the second file is still checked when the first has faults. */
function plotNames(text: string, file: string): PlotRow[] {
  const table = readTable(text, file, ["plot"], []);
  if (!table.ok) return [];
  const blank = {
    replicate: null,
    block: null,
    mainPlot: null,
    row: null,
    column: null,
    cover: null,
    companion: null,
  };
  return table.value.rows.map((row) => ({
    ...blank,
    line: row.line,
    plot: row.value("plot"),
    variety: "",
    sownOn: null,
    plantedOn: null,
    plants: null,
    areaM2: null,
    notes: {},
  }));
}

function readText(file: string): string | Fault {
  try {
    return readFileSync(file, "utf8");
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code ?? String(error);
    return { place: file, found: code, wanted: "a file that can be read" };
  }
}

function refuse(faults: Fault[]): number {
  for (const { place, found, wanted } of faults) console.error(`${place} found ${found} wanted ${wanted}`);
  return 2;
}

process.exitCode = main(process.argv.slice(2));
