import { describe, expect, it } from "vitest";
import { tTestNonCentrality, tTestPower } from "@/lib/statistics/t-test-power";
import { agreement } from "../agreement";
import reference from "./case.json";

const { agree } = agreement("power", reference.tolerance);
const [{ expected }] = reference.cases;

describe("the power of a t test against R", () => {
  it.each(expected.map((test) => [test.n, test] as const))("two samples of %i", (n, test) => {
    const error = test.sd * Math.sqrt(2 / n);
    agree(tTestPower(test.delta / error, 2 * n - 2, 0.95), test.power_two_sample_strict);
    // R solves for the near tail only; the far one makes about 1e-6 of difference.
    const ours = tTestNonCentrality(0.8, 2 * n - 2, 0.95) * error;
    expect(Math.abs(ours / test.delta_for_80 - 1)).toBeLessThan(5e-6);
  });
});
