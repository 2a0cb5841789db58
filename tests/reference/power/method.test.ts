import { describe, expect, it } from "vitest";
import { fTestPower } from "@/lib/statistics/f-test-power";
import { normalCdf, normalQuantile } from "@/lib/statistics/normal";
import { detectableShare, survivalPower } from "@/lib/statistics/survival-power";
import { tTestNonCentrality, tTestPower } from "@/lib/statistics/t-test-power";
import { agreement } from "../agreement";
import reference from "./case.json";

const { agree } = agreement("power", reference.tolerance);
const [clustered, plain] = reference.cases as unknown as [
  { data: Record<"plots" | "size" | "icc" | "p1" | "p2", number[]>; expected: Record<string, number>[] },
  { expected: ({ type: string } & Record<string, number | string>)[] },
];

describe("clustered binomials against R's formulas", () => {
  it.each(clustered.expected.map((expected, row) => [row, expected] as const))(
    "design %i",
    (row, expected) => {
      const { plots, size, icc, p1, p2 } = clustered.data;
      const plan = {
        varieties: 2,
        plotsEach: plots[row],
        plantsPerPlot: size[row],
        layout: "crd" as const,
        icc: icc[row],
        level: 0.95,
      };
      const power = survivalPower(plan, p1[row], p2[row]);
      agree(power.t, expected.formula_power_unpooled_t);
      // R's normal formula counts the near tail only.
      const designEffect = 1 + (size[row] - 1) * icc[row];
      const variance = (p1[row] * (1 - p1[row]) + p2[row] * (1 - p2[row])) * designEffect;
      const errors = Math.abs(p1[row] - p2[row]) / Math.sqrt(variance / (plots[row] * size[row]));
      agree(
        power.normal - normalCdf(-errors - normalQuantile(0.975)),
        expected.formula_power_unpooled_normal ?? null,
      );
      agree(detectableShare(plan, p1[row], 0.8, "better"), expected.detectable_p2_at_80_normal);
    },
  );
});

describe("t and F tests against R", () => {
  const tests = plain.expected;
  it.each(tests.filter(({ type }) => type === "t").map((test) => [test.n, test] as const))(
    "two samples of %i",
    (_n, test) => {
      const n = Number(test.n);
      const error = Number(test.sd) * Math.sqrt(2 / n);
      agree(tTestPower(Number(test.delta) / error, 2 * n - 2, 0.95), Number(test.power_two_sample_strict));
      // R solves for the near tail only; the far one makes about 1e-6 of difference.
      const ours = tTestNonCentrality(0.8, 2 * n - 2, 0.95) * error;
      expect(Math.abs(ours / Number(test.delta_for_80) - 1)).toBeLessThan(5e-6);
    },
  );
  it.each(tests.filter(({ type }) => type === "anova").map((test) => [test.groups, test] as const))(
    "%i groups",
    (_groups, test) => {
      const [groups, n] = [Number(test.groups), Number(test.n)];
      agree(fTestPower(Number(test.noncentrality), groups - 1, groups * (n - 1), 0.95), Number(test.power));
    },
  );
});
