import { describe, expect, it } from "vitest";
import { analysisOfVariance } from "@/lib/statistics/analysis-of-variance";
import { factor, type Variable } from "@/lib/statistics/factor";
import { linearModel } from "@/lib/statistics/linear-model";
import { agreement } from "../agreement";
import reference from "./case.json";

interface Table {
  term: string[];
  df: number[];
  ss: number[];
  f: (number | null)[];
  p: (number | null)[];
}
interface Case {
  name: string;
  data: Record<string, string[] | number[]>;
  formula: string;
  expected: { sequential: Table; typeIII?: Table };
}

/** "a*b*c + d" as terms in R's order: by size first, and within a size as written. */
function parsed(one: Case) {
  const variables = Object.entries(one.data)
    .filter(([name]) => name !== "y")
    .map(
      ([name, values]): Variable =>
        typeof values[0] === "number"
          ? { name, values: values as number[] }
          : factor(name, values as string[]),
    );
  const terms: string[][] = [];
  for (const part of one.formula.replace("y ~ ", "").split(" + ")) {
    const crossed: string[][] = [];
    for (const name of part.split("*")) crossed.push([name], ...crossed.map((term) => [...term, name]));
    terms.push(...crossed);
  }
  terms.sort((a, b) => a.length - b.length);
  return { y: one.data.y as number[], variables, terms };
}

describe("analysis of variance against R", () => {
  const { agree } = agreement("analysis of variance", 1e-11); // 2.4e-14 now seen

  it.each(reference.cases as unknown as Case[])("$name", (one) => {
    const { y, variables, terms } = parsed(one);
    const model = linearModel(y, variables, terms);
    for (const [kind, table] of [
      ["sequential", one.expected.sequential],
      ["type III", one.expected.typeIII],
    ] as const) {
      const lines = analysisOfVariance(model, kind);
      for (const [row, name] of (table?.term ?? []).entries()) {
        const line = lines.find(
          ({ term }) => term === name.replaceAll(":", " × ").replace("Residuals", "residual"),
        );
        expect(line?.df, name).toBe(table?.df[row]);
        agree(line?.ss ?? null, table?.ss[row] ?? null);
        agree(line?.f ?? null, table?.f[row] ?? null);
        agree(line?.p ?? null, table?.p[row] ?? null);
      }
    }
  });

  it("gives an interaction that blocks swallow 0 df, as R does", () => {
    const npk = parsed((reference.cases as unknown as Case[])[0]);
    const lines = analysisOfVariance(linearModel(npk.y, npk.variables, npk.terms));
    expect(lines.find(({ term }) => term === "N × P × K")).toMatchObject({
      df: 0,
      ss: 0,
      f: null,
      reason: "not estimable",
    });
  });
});

describe("analysis of variance against certified values", () => {
  // The data carry ten digits and their last ones decide: R's own lm agrees to 2e-10. 5.9e-11 now seen.
  const weights = agreement("NIST AtmWtAg", 1e-9);
  it("NIST AtmWtAg", () => {
    const { groups, y, F: f, ssb, ssw } = reference.certified[0];
    const [between, within] = analysisOfVariance(
      linearModel(y, [factor("instrument", groups.map(String))], [["instrument"]]),
    );
    weights.agreeAll(
      [between.f, between.ss, within.ss].map((value) => (value ?? 0) * 1e9),
      [f, ssb, ssw].map((value) => value * 1e9),
    );
  });

  // Simon & Lesage (1989): offset + effect + effect, certified by NIST as SmLs01 to 09. A double holds 1e6 + 0.4 to
  // 1e-10 and 1e12 + 0.4 to 1e-4, and no arithmetic can know what was meant beyond that.
  const plain = agreement("NIST SmLs01 to 03", 1e-12);
  const offset = agreement("NIST SmLs04 to 06", 1e-9);
  const far = agreement("NIST SmLs07 to 09", 5e-4);
  // What a double keeps of the far ones, in whole numbers of 1/8192, summed without rounding.
  const kept = agreement("NIST SmLs07 to 09 as doubles hold them", 1e-12);

  it.each([
    ["SmLs01", 1, 21, plain],
    ["SmLs02", 1, 201, plain],
    ["SmLs03", 1, 2001, plain],
    ["SmLs04", 1e6, 21, offset],
    ["SmLs05", 1e6, 201, offset],
    ["SmLs06", 1e6, 2001, offset],
    ["SmLs07", 1e12, 21, far],
    ["SmLs08", 1e12, 201, far],
    ["SmLs09", 1e12, 2001, far],
  ] as const)("NIST %s", (_name, base, replicates, { agreeAll }) => {
    const effect = (i: number) => (i === 1 ? 2 : i % 2 === 0 ? 1 : 3);
    const rows = Array.from({ length: 9 * replicates }, (_, at) => {
      const [treatment, replicate] = [Math.floor(at / replicates) + 1, (at % replicates) + 1];
      return { treatment: String(treatment), y: base + (effect(treatment) + effect(replicate)) / 10 };
    });
    const treatment = factor(
      "treatment",
      rows.map((row) => row.treatment),
    );
    const values = rows.map(({ y }) => y);
    const [between, within] = analysisOfVariance(linearModel(values, [treatment], [["treatment"]]));
    agreeAll([between.f, between.ss, within.ss], [replicates, 0.08 * replicates, 0.09 * (replicates - 1)]);
    expect(within.df).toBe(9 * (replicates - 1));
    if (base < 1e12) return;
    const wholes = values.map((value) => BigInt((value - base) * 8192));
    const total = (some: bigint[]) => some.reduce((sum, one) => sum + one, 0n);
    const n = BigInt(replicates);
    const squares = total(
      treatment.levels.map(
        (_, level) => total(wholes.filter((_, row) => treatment.codes[row] === level)) ** 2n,
      ),
    );
    const ssBetween = Number(9n * squares - total(wholes) ** 2n) / Number(9n * n) / 8192 ** 2;
    const ssWithin = Number(n * total(wholes.map((one) => one * one)) - squares) / replicates / 8192 ** 2;
    kept.agreeAll([between.ss, within.ss], [ssBetween, ssWithin]);
  });
});
