import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, describe, expect, it } from "vitest";
import type { SurvivalOfVariety, SurvivalWorking, YieldAnalysis } from "@/lib/analysis/finding";
import { agreement } from "../agreement";
import reference from "./case.json";

const root = fileURLToPath(new URL("../../..", import.meta.url));
const here = fileURLToPath(new URL(".", import.meta.url));
const command = ["--import", "tsx", "lib/command/analyse.ts"];

interface Report {
  trial: { design: string; plots: number; varieties: string[]; blocks: number | null; assessedOn: string };
  survival: {
    df: number;
    varieties: SurvivalOfVariety[];
    working: Pick<
      SurvivalWorking,
      "dispersion" | "multipliers" | "otherDifferences" | "deviance" | "logRank"
    >;
  } | null;
  yield: YieldAnalysis;
  cautions: { code: string; text: string }[];
}

function files(folder: string): string[] {
  return ["plots.csv", "observations.csv"].map((file) => join(here, folder, file));
}

function analyse(folder: string, ...options: string[]): Report {
  const printed = execFileSync("node", [...command, ...files(folder), "--json", ...options], {
    cwd: root,
    encoding: "utf8",
  });
  return JSON.parse(printed);
}

interface Contrast {
  contrast: string;
  estimate: number;
  se: number;
  df: number;
  low: number;
  high: number;
  p: number;
}

const { tolerance, cases } = reference;
const exact = agreement("analyse, closed forms", tolerance.closedForms);
const tukey = agreement("analyse, Tukey", tolerance.tukey);
const reml = agreement("analyse, mixed models", tolerance.mixed);
const dunnett = agreement("analyse, Dunnett", tolerance.dunnett);

const found: [keyof typeof cases, string, string[]][] = [
  ["stools", "stools", []],
  ["barley", "barley", []],
  ["barley-missing", "barley-missing", []],
  ["beets", "beets", ["--yield-per", "plot"]],
  ["beets-per-plant", "beets", []],
  ["plants", "plants", []],
  ["cucumber", "cucumber", []],
];

const mixed: [keyof typeof cases, string[]][] = [
  ["oats", ["--design", "split-plot"]],
  ["oats-missing", []],
  ["alpha", []],
  ["augmented", ["--design", "augmented"]],
];

describe.each(found)("the analysis of two files: %s", (name, folder, options) => {
  const expected = cases[name].expected as Exclude<(typeof cases)["barley"]["expected"], undefined>;
  const { yield: ours } = analyse(folder, "--check", expected.check, ...options);

  it("prints the published analysis of variance", () => {
    expect(ours.anova.map((row) => row.term)).toEqual(
      expected.anova.map((row) => (row.term === "Residuals" ? "residual" : row.term)),
    );
    expected.anova.forEach((row, place) => {
      exact.agree(ours.anova[place].df, row.df);
      exact.agree(ours.anova[place].ss, row.ss);
      exact.agree(ours.anova[place].ms, row.ms);
      exact.agree(ours.anova[place].f, row.f ?? null);
      exact.agree(ours.anova[place].p, row.p ?? null);
    });
    exact.agree(ours.residualDf, expected.residualDf);
    exact.agree(ours.cv, expected.cv);
  });

  it("prints the means with their limits", () => {
    expect(ours.varieties.map((one) => one.variety)).toEqual(expected.means.map((one) => one.variety));
    expected.means.forEach((mean, place) => {
      for (const part of ["mean", "se", "df", "low", "high"] as const)
        exact.agree(ours.varieties[place][part], mean[part]);
    });
  });

  it("prints every pair with limits for all pairs at once", () => {
    expect(ours.pairs).toHaveLength(expected.tukey.length);
    for (const pair of expected.tukey as Contrast[]) {
      const own = ours.pairs.find((one) => `${one.a} - ${one.b}` === pair.contrast);
      exact.agree(own?.estimate ?? null, pair.estimate);
      exact.agree(own?.se ?? null, pair.se);
      for (const part of ["low", "high", "p"] as const) tukey.agree(own?.[part] ?? null, pair[part]);
    }
  });

  it("prints differences to the check with limits for all of them at once, and ratios", () => {
    expect(ours.differences).toHaveLength(expected.dunnett.length);
    for (const pair of expected.dunnett as Contrast[]) {
      const own = ours.differences.find((one) => `${one.variety} - ${one.reference}` === pair.contrast);
      exact.agree(own?.estimate ?? null, pair.estimate);
      const near = (ours: number | undefined | null, theirs: number) =>
        dunnett.agree(ours == null ? null : 1 + ours, 1 + theirs);
      for (const part of ["low", "high", "p"] as const) near(own?.[part], pair[part]);
    }
    for (const ratio of expected.ratios) {
      const own = ours.differences.find((one) => `${one.variety} - ${one.reference}` === ratio.contrast);
      exact.agree(own?.ratio ?? null, ratio.ratio);
      exact.agree(own?.ratioLow ?? null, ratio.low);
      exact.agree(own?.ratioHigh ?? null, ratio.high);
    }
  });
});

describe.each(mixed)("the analysis of plots with several errors: %s", (name, options) => {
  const expected = cases[name].expected as Exclude<(typeof cases)["alpha"]["expected"], undefined>;
  const { yield: ours } = analyse(name, ...options);
  const row = (term: string) => ours.anova.find((one) => one.term === term.replace(":", " × "));

  it("tests each term with Kenward and Roger's df, or in its own stratum", () => {
    for (const test of expected.tests) {
      const own = row(test.term);
      for (const part of ["df", "df2", "f", "p"] as const) reml.agree(own?.[part] ?? null, test[part]);
    }
  });

  it("gives the variances", () => {
    expect(ours.variance).toHaveLength(expected.variance.length);
    for (const { component, estimate } of expected.variance) {
      const near = ours.variance.filter((one) => Math.abs((one.estimate ?? 0) / estimate - 1) < 1e-5);
      expect(near, component).toHaveLength(1);
      reml.agree(near[0].estimate, estimate);
    }
  });

  it("gives means and pairs with their own df", () => {
    for (const mean of expected.means) {
      const own = ours.varieties.find((one) => one.variety === mean.variety);
      for (const part of ["mean", "se", "df", "low", "high"] as const)
        reml.agree(own?.[part] ?? null, mean[part]);
    }
    for (const pair of expected.tukey as Contrast[]) {
      const own = ours.pairs.find((one) => `${one.a} - ${one.b}` === pair.contrast);
      reml.agree(own?.estimate ?? null, pair.estimate);
      reml.agree(own?.se ?? null, pair.se);
      for (const part of ["low", "high", "p"] as const) tukey.agree(own?.[part] ?? null, pair[part]);
    }
  });
});

describe("the analysis of two files", () => {
  it("prints the classic table of Yates's oats, and covers beside varieties", () => {
    const { yield: ours } = analyse("oats");
    expect(ours.anova.map((one) => [one.term, one.df])).toEqual([
      ["block", 5],
      ["cover", 2],
      ["block × cover", 10],
      ["variety", 3],
      ["cover × variety", 6],
      ["residual", 45],
    ]);
    expect(ours.anova[0].ms).toBeCloseTo(3175.0556, 4);
    expect(ours.anova[2].ms).toBeCloseTo(601.3306, 4);
    expect(ours.anova[5].ms).toBeCloseTo(177.0833, 4);
    expect(ours.main?.means.map((one) => one.mean)).toEqual([
      expect.closeTo(97.625, 9),
      expect.closeTo(104.5, 9),
      expect.closeTo(109.7916667, 6),
    ]);
    expect(ours.main?.pairs[0]).toMatchObject({ a: "Golden Rain", b: "Victory" });
    expect(ours.main?.pairs[0].se).toBeCloseTo(7.0789, 4);
    expect(ours.main?.cells).toHaveLength(12);
  });

  it("gives no mean where blocks and treatments are confounded, and says so, but the analysis of variance", () => {
    const report = analyse("npk");
    const { expected } = cases.npk;
    expected.anova.forEach((row, place) => {
      exact.agree(report.yield.anova[place].df, row.df);
      exact.agree(report.yield.anova[place].ss, row.ss);
      exact.agree(report.yield.anova[place].f, row.f ?? null);
    });
    expect(report.yield.varieties.every((one) => one.mean === null)).toBe(true);
    expect(report.cautions.map((one) => one.code)).toContain("not-estimable");
  });

  it("prints the check value of the effective-plant interval", () => {
    const report = analyse("clumped-survival", "--check", "Hollin", "--at", "2027-03-01");
    const { f, k, effectivePlants } = reference.clumpedSurvival;
    expect(report.trial).toMatchObject({ design: "rcbd", plots: 12, blocks: 3, assessedOn: "2027-03-01" });
    expect(report.survival?.working.dispersion).toBeCloseTo(f, 10);
    for (const { multiplier } of report.survival?.working.multipliers ?? [])
      expect(multiplier).toBeCloseTo(k, 9);
    for (const variety of report.survival?.varieties ?? [])
      expect(variety.effectivePlants).toBeCloseTo(effectivePlants, 9);
    expect(report.yield).toBeNull();
  });

  it("prints beside it what methods that take plants as independent would say", () => {
    const working = analyse("clumped-survival", "--check", "Hollin").survival?.working;
    // R 4.2.2, anova(glm(cbind(standing, lost) ~ block + variety, quasibinomial), test = "F").
    expect(working?.deviance.map(({ f }) => f?.toFixed(3))).toEqual(["19.699", "79.649"]);
    const of = (method: string) =>
      working?.otherDifferences.find((one) => one.method.startsWith(method))?.differences[0];
    // R mantelhaen.test(correct = FALSE), Ash against Hollin within blocks.
    expect(of("Mantel–Haenszel (Robins")?.estimate).toBeCloseTo(7.4, 10);
    expect(of("Mantel–Haenszel (Robins")?.low).toBeCloseTo(1.509252, 6);
    expect(of("Mantel–Haenszel (Robins")?.high).toBeCloseTo(36.282884, 5);
    expect(of("Mantel–Haenszel (Sato)")?.p).toBeCloseTo(0.01034, 5);
    // R coxph(Surv(time, lost) ~ variety + strata(block), ties = "efron").
    expect(Math.log(of("Cox")?.estimate ?? Number.NaN)).toBeCloseTo(-1.385094, 6);
    expect(working?.otherDifferences.filter((one) => !one.takesPlantsAsIndependent)).toHaveLength(2);
    expect(working?.logRank.map(({ variety }) => variety)).toEqual(["Ash", "Carrow", "Thornlea"]);
  });

  it("says the same in words without --json", () => {
    const printed = execFileSync("node", [...command, ...files("stools"), "--check", "T1"], {
      cwd: root,
      encoding: "utf8",
    });
    expect(printed).toContain("T2 clearly out-yielded T1: 1.47 times as much");
    expect(printed).toMatch(/variety +3 +81\.1944 +27\.0648 +22\.356/);
    expect(printed).not.toMatch(/no difference/i);
  });
});

describe("faults in the files", () => {
  const folder = mkdtempSync(join(tmpdir(), "analyse-"));
  afterAll(() => rmSync(folder, { recursive: true }));

  function refused(plots: string, observations: string, ...options: string[]) {
    writeFileSync(join(folder, "plots.csv"), plots);
    writeFileSync(join(folder, "observations.csv"), observations);
    return spawnSync(
      "node",
      [...command, join(folder, "plots.csv"), join(folder, "observations.csv"), ...options],
      { cwd: root, encoding: "utf8" },
    );
  }

  it("are all listed with file, line, column, what was found and what is wanted, and nothing is analysed", () => {
    const { status, stdout, stderr } = refused(
      "plot,variety,plants\nA1,Hollin,six\nA2,,8\n",
      "seen_on,plot,kind,amount\n2027-02-30,A1,stand,3\n2027-03-01,A9,stand,3\n",
    );
    expect(status).toBe(2);
    expect(stdout).toBe("");
    const lines = stderr.trim().split("\n");
    expect(lines).toHaveLength(4);
    expect(lines[0]).toMatch(/plots\.csv:2:plants found six wanted /);
    expect(lines[1]).toMatch(/plots\.csv:3:variety found nothing wanted /);
    expect(lines[2]).toMatch(/observations\.csv:2:seen_on found 2027-02-30 wanted /);
    expect(lines[3]).toMatch(/observations\.csv:3:plot found A9 wanted /);
  });

  it("include what the design needs and the files do not say", () => {
    const { status, stderr } = refused(
      "plot,variety\nA1,Hollin\nA2,Carrow\n",
      "seen_on,plot,kind,amount\n2027-03-01,A1,harvest,3\n",
      "--design",
      "rcbd",
      "--check",
      "Pennick",
    );
    expect(status).toBe(2);
    expect(stderr).toMatch(/plots\.csv:2:block found nothing wanted /);
    expect(stderr).toMatch(/plots\.csv:3:block found nothing wanted /);
    expect(stderr).toMatch(/--check found Pennick wanted one of the varieties/);
  });

  it("include arguments that make no sense, and files that are not there", () => {
    const run = (...given: string[]) =>
      spawnSync("node", [...command, ...given], { cwd: root, encoding: "utf8" });
    expect(run("one.csv")).toMatchObject({ status: 2, stdout: "" });
    const wrong = run("nowhere.csv", "either.csv");
    expect(wrong.status).toBe(2);
    expect(wrong.stderr.trim().split("\n")).toHaveLength(2);
    expect(
      run("a.csv", "b.csv", "--at", "3/4/27", "--design", "best").stderr.trim().split("\n"),
    ).toHaveLength(2);
    expect(run("a.csv", "b.csv", "--frost").status).toBe(2);
  });
});
