import { spawn } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { BuildFailedError, buildIfStale } from "./build-if-stale";
import { findChromium, howToGetChromium } from "./chromium";
import { type Tally, tallyAll, tallyBrowserTests, tallyUnitTests } from "./test-tally";

const root = fileURLToPath(new URL("../..", import.meta.url));

interface Suite {
  name: string;
  command: string[];
  environment: Record<string, string>;
  report: string;
  read(report: never): Tally;
}

function run(suite: Suite): Promise<Tally & { exitCode: number }> {
  console.log(`\n${suite.name}`);
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, suite.command, {
      cwd: root,
      env: { ...process.env, ...suite.environment },
      stdio: ["ignore", "inherit", "inherit"],
    });
    child.on("error", reject);
    child.on("close", (code) => {
      const told = existsSync(suite.report)
        ? suite.read(JSON.parse(readFileSync(suite.report, "utf8")) as never)
        : { passed: 0, failed: 1 };
      resolve({ ...told, exitCode: code ?? 1 });
    });
  });
}

/** Runs every test that needs no second machine and prints, last, how many passed and failed. */
async function testAll(): Promise<Tally> {
  await buildIfStale(root, {
    onBuild: () => console.log("Building the pages for the browser tests."),
    signal: new AbortController().signal,
  });
  const folder = mkdtempSync(join(tmpdir(), "proving-bed-tests-"));
  const unitReport = join(folder, "unit.json");
  const browserReport = join(folder, "browser.json");
  const suites: Suite[] = [
    {
      name: "Unit, reference, property, database, figure and resilience tests",
      command: [
        join(root, "node_modules/vitest/vitest.mjs"),
        "run",
        "--config=tests/vitest.config.ts",
        "--reporter=dot",
        "--reporter=json",
        `--outputFile.json=${unitReport}`,
      ],
      environment: {},
      report: unitReport,
      read: tallyUnitTests,
    },
    {
      name: "Browser tests",
      command: [
        join(root, "node_modules/@playwright/test/cli.js"),
        "test",
        "--config=tests/playwright.config.ts",
        "--reporter=line,json",
      ],
      environment: { PLAYWRIGHT_JSON_OUTPUT_NAME: browserReport },
      report: browserReport,
      read: tallyBrowserTests,
    },
  ];
  try {
    const runs = [];
    for (const suite of suites) runs.push(await run(suite));
    return tallyAll(runs);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

if (findChromium(process.env) === null) {
  console.error(howToGetChromium);
  process.exitCode = 1;
} else {
  try {
    const { passed, failed } = await testAll();
    console.log(`\n${passed} passed, ${failed} failed`);
    process.exitCode = failed === 0 ? 0 : 1;
  } catch (fault) {
    if (!(fault instanceof BuildFailedError)) throw fault;
    console.error(fault.output);
    console.log("\n0 passed, 1 failed");
    process.exitCode = 1;
  }
}
