import { inverse, Matrix } from "ml-matrix";
import { isEstimable, type WhyNot } from "./contrast";
import type { Term } from "./design-matrix";
import { fUpper } from "./f-distribution";
import { hypothesisRows } from "./hypothesis-rows";
import type { LinearModel } from "./linear-model";

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
 * Source: searle-1971, chapters 6 to 8; type III hypotheses those of searle-1980's marginal means.
 * Checked: tests/reference/analysis-of-variance (NIST StRD; R anova, car::Anova).
 */
export function analysisOfVariance(
  model: LinearModel,
  kind: "sequential" | "type III" = "sequential",
): VarianceLine[] {
  const lines = model.design.terms.map((term, index) => {
    const { df, ss } = kind === "sequential" ? sequential(model, index) : adjusted(model, term);
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

/** Type III: (Lb)'(L C L')⁻¹(Lb) for the term's hypothesis L. */
function adjusted(model: LinearModel, term: Term): Share {
  const rows = hypothesisRows(model.design, term);
  if (rows.length === 0 || !rows.every((row) => isEstimable(model, row)))
    return { df: rows.length, ss: null };
  const onFitted = new Matrix(rows.map((row) => model.kept.map((place) => row[place])));
  const values = onFitted.mmul(Matrix.columnVector(model.coefficients));
  const weight = inverse(onFitted.mmul(model.unscaled).mmul(onFitted.transpose()));
  return { df: rows.length, ss: values.transpose().mmul(weight).mmul(values).get(0, 0) };
}
