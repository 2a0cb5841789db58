import { inverse, Matrix } from "ml-matrix";
import type { WhyNot } from "./contrast";
import { fUpper } from "./f-distribution";
import { type LinearModel, linearModel } from "./linear-model";

/** One line of the table. `f` and `p` are null on the residual's line, and with a reason where there is none to give. */
export interface VarianceLine {
  /** Variables of the term joined by " × "; `residual` for the last line. */
  term: string;
  df: number;
  ss: number | null;
  ms: number | null;
  f: number | null;
  p: number | null;
  reason: WhyNot | null;
}

/**
 * The analysis of variance of a linear model.
 *
 * *Sequential*: each term adjusted for those before it; put blocks first and varieties last. *Type III*: each term
 * adjusted for all others under equal weights of the levels; where cells are empty it has no agreed meaning, and terms
 * that the empty cells touch are not given.
 *
 * @returns a line a term in the model's order, then the residual
 *
 * Edges: a term wholly aliased with earlier ones has 0 df and is not estimable; no residual df or no residual variation
 * gives no F.
 * Source: searle-1971, chapters 6 to 8 (sequential; Σ-restricted for type III).
 * Checked: tests/reference/analysis-of-variance (NIST StRD; R anova, car::Anova).
 */
export function analysisOfVariance(
  model: LinearModel,
  kind: "sequential" | "type III" = "sequential",
): VarianceLine[] {
  const fitted = kind === "sequential" ? model : sumCoded(model);
  const lines = model.design.terms.map((term, index) => {
    const { df, ss } = kind === "sequential" ? sequential(fitted, index) : adjusted(fitted, index);
    return line(model, term.join(" × "), df, ss);
  });
  const { residualDf: df, residualSs: ss, residualMs: ms } = model;
  return [...lines, { term: "residual", df, ss, ms, f: null, p: null, reason: null }];
}

function line(model: LinearModel, term: string, df: number, ss: number | null): VarianceLine {
  const ms = ss === null || df === 0 ? null : ss / df;
  const none = (reason: WhyNot): VarianceLine => ({ term, df, ss, ms, f: null, p: null, reason });
  if (ms === null) return none("not estimable");
  if (model.residualMs === null) return none("no residual df");
  if (model.leavesNothing) return none("no variation");
  const f = ms / model.residualMs;
  return { term, df, ss, ms, f, p: fUpper(f, df, model.residualDf), reason: null };
}

interface Share {
  df: number;
  ss: number | null;
}

function sequential(model: LinearModel, index: number): Share {
  let ss = 0;
  let df = 0;
  for (const [k, place] of model.kept.entries())
    if (model.design.termOf[place] === index) {
      ss += model.columnSs[k];
      df += 1;
    }
  return { df, ss };
}

/** The same fit under sum coding, where a term's own coefficients are zero exactly when its type III hypothesis holds. */
function sumCoded(model: LinearModel): LinearModel {
  const { variables, terms, coding } = model.design;
  if (coding === "sum") return model;
  const response = Array.from(model.fitted, (value, row) => value + model.residuals[row]);
  return linearModel(response, variables, terms, "sum");
}

function adjusted(model: LinearModel, index: number): Share {
  const { terms, termOf } = model.design;
  const own = model.kept.flatMap((place, k) => (termOf[place] === index ? [k] : []));
  const emptied = model.aliases.some(([place]) => {
    const other = terms[termOf[place]];
    return other.length > terms[index].length && terms[index].every((name) => other.includes(name));
  });
  if (emptied || own.length === 0) return { df: own.length, ss: null };
  const values = Matrix.columnVector(own.map((k) => model.coefficients[k]));
  const weight = inverse(model.unscaled.selection(own, own));
  return { df: own.length, ss: values.transpose().mmul(weight).mmul(values).get(0, 0) };
}
