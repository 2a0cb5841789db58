import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { cpus, tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { tallyUnitTests } from "./test-tally";

const root = fileURLToPath(new URL("../..", import.meta.url));

/** What is killed how often; the tests are those of the gate, asked for more. */
const drills = [
  {
    what: "the receiving service, while facts come in",
    file: "tests/resilience/killed-while-writing.test.ts",
    named: "killed while facts come in",
    environment: { PROVING_BED_KILLS: "1000" },
  },
  {
    what: "the built server, by its real launcher",
    file: "tests/resilience/launcher.test.ts",
    named: "killed outright",
    environment: { PROVING_BED_SERVER_KILLS: "25" },
  },
];

const folder = mkdtempSync(join(tmpdir(), "proving-bed-kills-"));
try {
  console.log("# Kills\n");
  console.log(
    "Printed by `npm run kills`. Each time a server is killed (SIGKILL) while it writes facts, its file is opened again: SQLite finds it whole, every fact that was acknowledged is in it once, what is derived is derived the same afresh, and sending everything again ends in every fact once. This does not try a power cut: that the disk is waited for (`synchronous=FULL`) is asserted in tests/database/schema.test.ts.\n",
  );
  console.log("| killed | times | held | failed | seconds |\n| --- | --- | --- | --- | --- |");
  for (const { what, file, named, environment } of drills) {
    const report = join(folder, "report.json");
    const begun = performance.now();
    const vitest = [join(root, "node_modules/vitest/vitest.mjs"), "run", "--config=tests/vitest.config.ts"];
    spawnSync(
      process.execPath,
      [...vitest, file, `--testNamePattern=${named}`, "--reporter=json", `--outputFile.json=${report}`],
      { cwd: root, env: { ...process.env, ...environment }, stdio: "ignore" },
    );
    const { passed, failed } = tallyUnitTests(JSON.parse(readFileSync(report, "utf8")));
    const seconds = Math.round((performance.now() - begun) / 1000);
    console.log(`| ${what} | ${passed + failed} | ${passed} | ${failed} | ${seconds} |`);
    if (failed > 0) process.exitCode = 1;
  }
  console.log(`\nNode ${process.versions.node}, ${cpus()[0].model}.`);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
