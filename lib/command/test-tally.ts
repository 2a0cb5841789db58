/** How many tests passed and failed. A test that was skipped is neither; whatever broke outside a test is a failure. */
export interface Tally {
  passed: number;
  failed: number;
}

interface UnitReport {
  numPassedTests: number;
  numFailedTests: number;
  testResults: { status: string; assertionResults: unknown[] }[];
}

interface BrowserReport {
  stats: { expected: number; unexpected: number; flaky: number };
  errors: unknown[];
}

/** Reads the unit tests' JSON report. A file that could not be loaded holds no tests and counts as one failure. */
export function tallyUnitTests(report: UnitReport): Tally {
  const broken = report.testResults.filter(
    (file) => file.status === "failed" && file.assertionResults.length === 0,
  );
  return { passed: report.numPassedTests, failed: report.numFailedTests + broken.length };
}

/** Reads the browser tests' JSON report. A test that passed only when tried again has failed. */
export function tallyBrowserTests(report: BrowserReport): Tally {
  const { expected, unexpected, flaky } = report.stats;
  return { passed: expected, failed: unexpected + flaky + report.errors.length };
}

/** Both together; a run that ended badly without a failed test to show for it counts as one failure. */
export function tallyAll(runs: (Tally & { exitCode: number })[]): Tally {
  return {
    passed: runs.reduce((sum, run) => sum + run.passed, 0),
    failed: runs.reduce((sum, run) => sum + Math.max(run.failed, run.exitCode === 0 ? 0 : 1), 0),
  };
}
