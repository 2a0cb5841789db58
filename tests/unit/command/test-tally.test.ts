import { expect, it } from "vitest";
import { tallyAll, tallyBrowserTests, tallyUnitTests } from "@/lib/command/test-tally";

it("counts a file of unit tests that could not be loaded as one failure", () => {
  const report = {
    numPassedTests: 7,
    numFailedTests: 1,
    testResults: [
      { status: "passed", assertionResults: [1, 2] },
      { status: "failed", assertionResults: [1] },
      { status: "failed", assertionResults: [] },
    ],
  };
  expect(tallyUnitTests(report)).toEqual({ passed: 7, failed: 2 });
});

it("counts a browser test that passed only the second time, and whatever broke outside a test, as failures", () => {
  const report = { stats: { expected: 5, unexpected: 1, flaky: 1 }, errors: ["the site did not start"] };
  expect(tallyBrowserTests(report)).toEqual({ passed: 5, failed: 3 });
});

it("never says that nothing failed when a run ended badly", () => {
  const runs = [
    { passed: 3, failed: 0, exitCode: 0 },
    { passed: 2, failed: 0, exitCode: 1 },
  ];
  expect(tallyAll(runs)).toEqual({ passed: 5, failed: 1 });
});
