import { chiSquareUpper } from "./chi-square";
import type { Term } from "./design-matrix";
import { fUpper } from "./f-distribution";
import type { GeneralisedModel } from "./generalised-model";

export interface DevianceLine {
  /** Variables of the term joined by " × ". */
  term: string;
  df: number;
  deviance: number;
  /** Null where the dispersion is known, and where it could not be told. */
  f: number | null;
  p: number | null;
  reason: "not estimable" | "no residual df" | "no variation" | null;
}

/**
 * What each term takes from the deviance, adjusted for the terms before it, with its test: F on the Pearson dispersion
 * of the full model where that is estimated, chi-square where it is known.
 *
 * @param modelOf fits the model with the first terms only, so many of them (`binomialModel` or `countModel` on the same rows)
 * @param terms all terms in order, the one asked about last
 *
 * Edges: a term that adds no df is not estimable; without residual df, or without scatter, there is no F.
 * Source: mccullagh-nelder-1989, sections 2.3 and 4.5.
 * Checked: tests/reference/binomial-models, tests/reference/counts (R anova(test = "F"), Pearson dispersion).
 */
export function analysisOfDeviance(
  modelOf: (terms: readonly Term[]) => GeneralisedModel,
  terms: readonly Term[],
): DevianceLine[] {
  const models = Array.from({ length: terms.length + 1 }, (_, count) => modelOf(terms.slice(0, count)));
  const full = models[terms.length];
  const estimated = Number.isFinite(full.dfOf(new Float64Array(full.kept.length)));
  return terms.map((term, index) => {
    const df = models[index].residualDf - models[index + 1].residualDf;
    const deviance = Math.max(0, models[index].deviance - models[index + 1].deviance);
    const line = { term: term.join(" × "), df, deviance, f: null, p: null };
    if (df === 0) return { ...line, reason: "not estimable" };
    if (!estimated) return { ...line, p: chiSquareUpper(deviance, df), reason: null };
    if (full.dispersion === null) return { ...line, reason: "no residual df" };
    if (full.leavesNothing) return { ...line, reason: "no variation" };
    const f = deviance / df / full.dispersion;
    return { ...line, f, p: fUpper(f, df, full.residualDf), reason: null };
  });
}
