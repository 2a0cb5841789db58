import { type Covariate, type Factor, isFactor, type Variable } from "./factor";
import { insist } from "./requirement";

/** Names of the variables that a term joins: one for a main effect, several for an interaction. */
export type Term = readonly string[];

/** *Treatment*: each level against the first. *Sum*: each level but the last against the mean of all. */
export type Coding = "treatment" | "sum";

export interface DesignMatrix {
  observations: number;
  variables: readonly Variable[];
  terms: readonly Term[];
  coding: Coding;
  /** One list of numbers a column; the mean's column of ones first. */
  columns: readonly Float64Array[];
  names: readonly string[];
  /** For each column the place of its term among `terms`; −1 for the mean. */
  termOf: readonly number[];
}

/**
 * The columns of a linear model with a mean, for factors, covariates and their interactions.
 *
 * @param variables factors and covariates, each with one entry per observation
 * @param terms in the order in which they are to be fitted
 * @returns columns; aliased ones are still among them
 *
 * Conventions: within an interaction a factor is coded by contrasts where the term without it is in the model, and by
 * one column a level where not (as R does), the first factor changing fastest; covariates are centred at their mean.
 */
export function designMatrix(
  variables: readonly Variable[],
  terms: readonly Term[],
  coding: Coding = "treatment",
): DesignMatrix {
  const sizes = new Set(variables.map(sizeOf));
  insist(sizes.size === 1, "designMatrix", "variables of one length", [...sizes].join(" and "));
  const [observations] = sizes;
  const columns = [new Float64Array(observations).fill(1)];
  const names = ["mean"];
  const termOf = [-1];
  for (const [index, term] of terms.entries()) {
    const parts = partsOf(variables, terms, coding, term);
    const first = columns.length;
    for (const name of product(parts.map((part) => part.labels))) {
      columns.push(new Float64Array(observations));
      names.push(name.join(":"));
      termOf.push(index);
    }
    for (let row = 0; row < observations; row += 1)
      for (const [offset, value] of multiplied(parts.map((part) => part.at(row))).entries())
        columns[first + offset][row] = value;
  }
  return { observations, variables, terms, coding, columns, names, termOf };
}

/**
 * The row of the design matrix at the named levels, averaged over all levels of every other factor (each weighing the
 * same, however many observations it has) and at the mean of every covariate. Its product with the coefficients is the
 * marginal mean.
 */
export function designRow(design: DesignMatrix, at: Readonly<Record<string, string>>): Float64Array {
  const { variables, terms, coding } = design;
  for (const [name, level] of Object.entries(at)) {
    const known = variables.find((variable) => variable.name === name);
    insist(known !== undefined && isFactor(known), "designRow", "a factor of the model", name);
    insist(known.levels.includes(level), "designRow", `a level of ${name}`, level);
  }
  const row = [1];
  for (const term of terms) {
    const parts = partsOf(variables, terms, coding, term);
    row.push(...multiplied(parts.map((part) => part.average(at[part.name]))));
  }
  return Float64Array.from(row);
}

interface Part {
  name: string;
  labels: string[];
  /** The coding of one observation. */
  at(row: number): readonly number[];
  /** The coding of a level, or the mean coding of all. */
  average(level: string | undefined): readonly number[];
}

function partsOf(variables: readonly Variable[], terms: readonly Term[], coding: Coding, term: Term): Part[] {
  return term.map((name) => {
    const variable = variables.find((one) => one.name === name);
    insist(variable !== undefined, "designMatrix", "terms made of the variables given", name);
    if (!isFactor(variable)) return covariatePart(variable);
    const margin = term.filter((other) => other !== name);
    const marginal =
      margin.length === 0 ||
      terms.some((other) => other.length === margin.length && margin.every((one) => other.includes(one)));
    return factorPart(variable, marginal ? coding : "full");
  });
}

function factorPart(factor: Factor, coding: Coding | "full"): Part {
  const { name, levels, codes } = factor;
  const last = levels.length - 1;
  const rows = levels.map((_, level) => {
    if (coding === "full") return levels.map((_, column) => (column === level ? 1 : 0));
    if (coding === "treatment") return levels.slice(1).map((_, column) => (column + 1 === level ? 1 : 0));
    return levels.slice(0, -1).map((_, column) => (level === last ? -1 : column === level ? 1 : 0));
  });
  const mean = rows[0].map((_, column) => rows.reduce((sum, row) => sum + row[column], 0) / rows.length);
  const named = coding === "treatment" ? levels.slice(1) : coding === "sum" ? levels.slice(0, -1) : levels;
  return {
    name,
    labels: named.map((level) => `${name} ${level}`),
    at: (row) => rows[codes[row]],
    average: (level) => (level === undefined ? mean : rows[levels.indexOf(level)]),
  };
}

function covariatePart({ name, values }: Covariate): Part {
  const base = values[0];
  const mean = values.reduce((sum, value) => sum + (value - base), 0) / values.length;
  return {
    name,
    labels: [name],
    at: (row) => [values[row] - base - mean],
    average: () => [0],
  };
}

const sizeOf = (variable: Variable) => (isFactor(variable) ? variable.codes : variable.values).length;

/** Every combination, the first list changing fastest. */
function product(lists: readonly (readonly string[])[]): string[][] {
  return lists.reduce<string[][]>(
    (made, list) => list.flatMap((entry) => made.map((before) => [...before, entry])),
    [[]],
  );
}

function multiplied(vectors: readonly (readonly number[])[]): number[] {
  return vectors.reduce<number[]>(
    (made, vector) => vector.flatMap((entry) => made.map((before) => before * entry)),
    [1],
  );
}
