import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { cpus, tmpdir } from "node:os";
import { join } from "node:path";
import { type BenchCase, benchCases, findingsCase } from "./bench-cases";
import { findingsBench } from "./bench-findings";

/** Found on the path where R is installed; the bench does without it elsewhere. */
const interpreter = "Rscript";

/** Seconds of each run, the quickest first. */
function secondsHere({ before, here, runs }: BenchCase): number[] {
  here();
  return Array.from({ length: runs }, () => {
    before?.();
    const start = performance.now();
    here();
    return (performance.now() - start) / 1000;
  }).sort((one, other) => one - other);
}

/** A script that times one case inside R as it is timed here, and prints the quickest in seconds. */
function script({ data, runs }: BenchCase, r: NonNullable<BenchCase["r"]>, csv: string): string {
  const texts = Object.entries(data).filter(
    ([name, values]) => typeof values[0] === "string" || name === "variety",
  );
  return [
    ...r.packages.map((name) => `suppressMessages(library(${name}))`),
    `data <- read.csv("${csv}")`,
    ...texts.map(([name]) => `data$${name} <- factor(data$${name})`),
    `run <- function() { ${r.call} }`,
    "invisible(run())",
    `seconds <- sapply(1:${runs}, function(i) { start <- Sys.time(); run(); as.numeric(Sys.time() - start, units = "secs") })`,
    'cat(format(min(seconds), digits = 17), "\\n")',
  ].join("\n");
}

/** Null where R, or a package that the case needs, is not installed. */
function secondsInR(one: BenchCase, folder: string): number | null {
  if (one.r === null) return null;
  const csv = join(folder, "data.csv");
  const names = Object.keys(one.data);
  const rows = Object.values(one.data)[0].map((_, row) => names.map((name) => one.data[name][row]).join(","));
  writeFileSync(csv, [names.join(","), ...rows, ""].join("\n"));
  const file = join(folder, "case.R");
  writeFileSync(file, script(one, one.r, csv));
  const { status, stdout } = spawnSync(interpreter, [file], { encoding: "utf8" });
  return status === 0 ? Number(stdout) : null;
}

function rVersion(): string | null {
  try {
    return execFileSync(interpreter, ["-e", "cat(R.version.string)"], { encoding: "utf8" });
  } catch {
    return null;
  }
}

/** Seconds to three figures. */
const shown = (seconds: number) =>
  seconds < 0.0995 ? `${(1000 * seconds).toPrecision(3)} ms` : `${seconds.toPrecision(3)} s`;

const version = rVersion();
const folder = mkdtempSync(join(tmpdir(), "bench-"));
const findings = findingsBench();
try {
  console.log("# How long the statistics take\n");
  console.log(
    `The quickest of several runs after one to warm up, so that whatever else the machine does counts least; timed inside each process on the same data. Node ${process.versions.node}, ` +
      `${version ?? "R not installed"}, ${cpus()[0]?.model ?? "unknown processor"}.\n`,
  );
  console.log("| case | here | R | times as fast | asked for |");
  console.log("| --- | --- | --- | --- | --- |");
  const ofFindings = findingsCase(findings);
  let middle = Number.NaN;
  for (const one of [...benchCases, ofFindings]) {
    const runs = secondsHere(one);
    const [here] = runs;
    if (one === ofFindings) middle = runs[Math.floor(runs.length / 2)];
    const there = version === null ? null : secondsInR(one, folder);
    const asked = [
      ...(one.target === null ? [] : [`${one.target} ×`]),
      ...(one.limit === null ? [] : [shown(one.limit)]),
    ].join(", ");
    const ratio = there === null ? "–" : (there / here).toPrecision(3);
    console.log(
      `| ${one.name} | ${shown(here)} | ${there === null ? "–" : shown(there)} | ${ratio} | ${asked} |`,
    );
  }
  console.log(
    `\nHalf of the ${ofFindings.runs} runs of the findings took at most ${shown(middle)}. What comes of dealing the layout again is not in them: the page is sent without it, and it is filled in after.`,
  );
} finally {
  findings.close();
  rmSync(folder, { recursive: true });
}
