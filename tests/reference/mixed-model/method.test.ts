import { describe, expect, it } from "vitest";
import { balancedSplitPlot } from "@/lib/statistics/balanced-split-plot";
import { crossedFactor, type Factor, factor } from "@/lib/statistics/factor";
import { marginalDifferences, marginalMeans } from "@/lib/statistics/marginal-means";
import { type MixedModel, mixedModel } from "@/lib/statistics/mixed-model";
import { agreement } from "../agreement";
import reference from "./case.json";
import { plainDeviance, plainKenwardRoger, plainMaximum, plainModel } from "./plain-twin";

interface Test {
  term: string;
  df1: number;
  df2: number;
  f: number;
  p: number;
}
interface Column {
  estimate: number[];
  se: number[];
  df: number[];
}
interface Table {
  levels: string[];
  means: Column;
  differences: Column;
}
interface Case {
  name: string;
  data: Record<string, string[]> & { y: never };
  formula: string;
  means: string[];
  expected: {
    variances: Record<string, number>;
    singular: boolean;
    deviance: number;
    tests: Test[];
    satterthwaite: Test[];
    means: Table[];
    satterthwaiteMeans: Table[];
    predictions: Record<string, { levels: string[]; estimate: number[] }>;
  };
}
const cases = reference.cases as unknown as Case[];

/** "y ~ a*b + (1|c:d)" as factors: the fixed terms, and one factor a random term named as R names it. */
function parsed({ data, formula }: Case) {
  const y = data.y as unknown as number[];
  const named = (name: string): Factor => factor(name, data[name]);
  const parts = formula.replace("y ~ ", "").split(" + ");
  const terms = parts
    .filter((part) => !part.startsWith("(") && part !== "1")
    .flatMap((part) => {
      const names = part.split("*");
      return names.length === 2 ? [[names[0]], [names[1]], names] : [names];
    });
  const random = parts
    .filter((part) => part.startsWith("("))
    .map((part) => part.slice(3, -1))
    .map((name) => (name.includes(":") ? crossedFactor(name, name.split(":").map(named)) : named(name)));
  const fixed = [...new Set(terms.flat())].map(named);
  const variables =
    fixed.length === 0
      ? [
          factor(
            "all",
            y.map(() => "all"),
          ),
        ]
      : fixed;
  return { y, variables, terms, random };
}

const fitted = (one: Case, how: "Kenward–Roger" | "Satterthwaite" = "Kenward–Roger") => {
  const { y, variables, terms, random } = parsed(one);
  return mixedModel(y, variables, terms, random, how);
};

// Ours stops where no slope is left (the plain twin below shows it); lme4's optimiser stops a little short of the top,
// and its variances and all that hangs on them are off by as much. Gaps now seen stand beside.
const variances = agreement("mixed model against R, variances", 2e-6); // 5.7e-7
const deviances = agreement("mixed model against R, deviance", 1e-12); // 3.4e-15
const kenwardRoger = agreement("mixed model against R, Kenward–Roger", 5e-6); // 1.7e-6
// lmerTest takes the variances' covariance by numerical differences.
const satterthwaite = agreement("mixed model against R, Satterthwaite", 3e-4); // 1.1e-4

type Agree = ReturnType<typeof agreement>;

function compareTests({ agreeAll }: Agree, model: MixedModel, expected: Test[]) {
  for (const want of expected) {
    const got = model.tests.find(({ term }) => term === want.term.replace(":", " × "));
    agreeAll([got?.f ?? null, got?.df2 ?? null, got?.p ?? null], [want.f, want.df2, want.p]);
    expect(got?.df1).toBe(want.df1);
  }
}

function compareMeans({ agreeAll }: Agree, model: MixedModel, one: Case, tables: Table[]) {
  for (const [index, { levels, means, differences }] of tables.entries()) {
    const name = one.means[index];
    const got = marginalMeans(model, name, 0.95);
    expect(got.map(({ level }) => level)).toEqual(levels);
    const pairs = levels.slice(1).map((level) => [level, levels[0]] as const);
    const apart = marginalDifferences(model, name, pairs, 0.95);
    for (const part of ["estimate", "se", "df"] as const) {
      agreeAll(
        got.map((mean) => mean[part]),
        means[part],
      );
      agreeAll(
        apart.map((difference) => difference[part]),
        differences[part],
      );
    }
  }
}

describe("mixed models against R", () => {
  it.each(cases)("$name", (one) => {
    const model = fitted(one);
    const { expected } = one;
    for (const { component, estimate, reason } of model.components) {
      const want = expected.variances[component === "residual" ? "Residual" : component];
      variances.agree(estimate, want);
      expect(reason).toBe(want === 0 ? "at zero" : null);
    }
    deviances.agree(model.deviance, expected.deviance);
    compareTests(kenwardRoger, model, expected.tests);
    compareMeans(kenwardRoger, model, one, expected.means);
    const sd = Math.sqrt(expected.variances.Residual);
    for (const [term, { levels, estimate }] of Object.entries(expected.predictions)) {
      const of = new Map(model.predictions.get(term)?.map(({ level, estimate: value }) => [level, value]));
      // Beside the standard deviation, since a prediction may lie anywhere near 0.
      for (const [place, level] of levels.entries())
        kenwardRoger.agree(
          1 + (of.get(level.replace(":", " × ")) ?? Number.NaN) / sd,
          1 + estimate[place] / sd,
        );
    }
  });

  it.each(cases.filter(({ means }) => means.length > 0))("$name by Satterthwaite", (one) => {
    const model = fitted(one, "Satterthwaite");
    // Twelve entries of which eight stood once have equal eigenvalues, and lmerTest's df hang on which directions it
    // picks among them: 6.34 with levels in this order, 6.42 with checks first.
    if (one.name !== "augmented") compareTests(satterthwaite, model, one.expected.satterthwaite);
    compareMeans(satterthwaite, model, one, one.expected.satterthwaiteMeans);
  });
});

describe("mixed models against the plain twin", () => {
  const twin = agreement("mixed model against the plain twin", 1e-10); // 1.5e-12
  // A simplex feels only the deviance, which at a distance of 1e-6 from the top is flat to the last digit.
  const top = agreement("variances against the plain twin's simplex", 2e-6); // 1.6e-7

  it.each(cases)("$name: likelihood, Kenward–Roger, and no slope left at the top", (one) => {
    const { y, variables, terms, random } = parsed(one);
    const model = mixedModel(y, variables, terms, random);
    const x = y.map((_, row) => model.kept.map((place) => model.design.columns[place][row]));
    const plain = plainModel(
      y,
      x,
      random.map(({ codes }) => codes),
    );
    const variances = model.components.map(({ estimate }) => estimate ?? Number.NaN);
    twin.agree(model.deviance, plainDeviance(plain, variances));
    for (const [term, variance] of variances.entries()) {
      const step = 1e-4 * (variance || variances[variances.length - 1]);
      const up = plainDeviance(plain, variances.with(term, variance + step));
      if (variance === 0) expect(up).toBeGreaterThan(model.deviance as number);
      else {
        const down = plainDeviance(plain, variances.with(term, variance - step));
        // A slope of s moves the deviance by s·step: none is left beyond what rounding can show.
        expect(Math.abs(up - down)).toBeLessThan(1e-8);
      }
    }
    if (terms.length === 0) return;
    const place = (term: number) =>
      model.kept.flatMap((column, k) => (model.design.termOf[column] === term ? [k] : []));
    // The last term is nobody's margin, so its own coefficients are its hypothesis.
    const last = terms.length - 1;
    const rows = place(last).map((k) => model.kept.map((_, column) => (column === k ? 1 : 0)));
    const { adjusted, beta, f, df } = plainKenwardRoger(plain, variances, rows);
    twin.agreeAll([model.tests[last].f, model.tests[last].df2], [f, df]);
    twin.agreeAll(model.coefficients, beta.getColumn(0));
    twin.agreeAll(model.covariance?.diagonal() ?? [], adjusted.diagonal());
  });

  it("the simplex ends at the same variances", () => {
    for (const name of [
      "stools",
      "barley, two plots missing",
      "Latin square with gaps, rows and columns random",
    ]) {
      const one = cases.find((each) => each.name === name) as Case;
      const { y, variables, terms, random } = parsed(one);
      const model = mixedModel(y, variables, terms, random);
      const x = y.map((_, row) => model.kept.map((place) => model.design.columns[place][row]));
      const plain = plainModel(
        y,
        x,
        random.map(({ codes }) => codes),
      );
      const found = plainMaximum(
        plain,
        model.components.map(() => 1),
      );
      top.agreeAll(
        model.components.map(({ estimate }) => estimate),
        found,
      );
    }
  });
});

describe("balanced split plots by strata", () => {
  // The standard errors compared with are lme4's. 1.1e-8
  const { agreeAll } = agreement("split plot by strata", 1e-7);

  it("give Yates's analysis of the oats and R's tests and standard errors", () => {
    const one = cases[0];
    const [block, main, sub] = ["block", "variety", "nitrogen"].map((name) => factor(name, one.data[name]));
    const plot = balancedSplitPlot(one.data.y as unknown as number[], block, main, sub);
    // R: summary(aov(Y ~ Variety*nitro + Error(Block/Variety))).
    agreeAll(
      plot?.strata.map(({ ms }) => ms) ?? [],
      [3175.055555555562, 601.3305555555547, 177.08333333333334],
    );
    expect(plot?.strata.map(({ df }) => df)).toEqual([5, 10, 45]);
    agreeAll(
      plot?.tests.map(({ f }) => f) ?? [],
      [1.485340379436335, 37.685647058823506, 0.30282352941176577],
    );
    if (plot === null) return;
    for (const [index, name] of ["variety", "nitrogen"].entries())
      for (const part of ["estimate", "se", "df"] as const)
        agreeAll(
          marginalMeans(plot, name, 0.95).map((mean) => mean[part]),
          one.expected.means[index].means[part],
        );
  });

  it("give the asparagus trial's published tests", () => {
    const one = cases.find(({ name }) => name.startsWith("asparagus")) as Case;
    const [block, main, sub] = ["block", "cutting", "year"].map((name) => factor(name, one.data[name]));
    const plot = balancedSplitPlot(one.data.y as unknown as number[], block, main, sub);
    expect(plot?.tests.map(({ f, df2 }) => [Number(f?.toPrecision(5)), df2])).toEqual([
      [28.057, 9],
      [425.97, 48],
      [14.918, 48],
    ]);
  });
});
