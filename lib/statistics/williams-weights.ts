import { type BinomialRows, binomialModel } from "./binomial-model";
import type { Term } from "./design-matrix";
import type { Variable } from "./factor";
import type { GeneralisedModel } from "./generalised-model";
import { rootBetween } from "./root-between";

export interface WilliamsFit {
  /** Correlation of plants within a row, φ: a row's variance is the binomial's × (1 + (setOut − 1) φ). */
  correlation: number;
  /** 1/(1 + (setOut − 1) φ), one a row. */
  weights: number[];
  /** Logistic model at these weights, its dispersion known to be 1. */
  model: GeneralisedModel;
  /** *No more scatter than binomial*: φ is 0 at its edge. *No residual df*: φ cannot be told and is 0. */
  reason: "no more scatter than binomial" | "no residual df" | null;
}

/**
 * Logistic regression of plots that scatter more than the binomial, each plot weighted down as its own size demands.
 *
 * Where plots hold unlike numbers of plants it weighs them better than quasi-binomial does. For the working.
 *
 * @param rows one a plot
 * @param terms as in `binomialModel`
 *
 * Conventions: φ is what brings the weighted Pearson X² down to the residual df (method of moments, model II).
 * Edges: φ is not let below 0, nor above 1; a variety that lost all or none is endless, as in `binomialModel`.
 * Source: williams-1982.
 * Checked: tests/reference/binomial-models (φ and coefficients as Williams printed them for Crowder’s seeds).
 */
export function williamsWeights(
  rows: BinomialRows,
  variables: readonly Variable[],
  terms: readonly Term[],
): WilliamsFit {
  const at = (correlation: number) => {
    const weights = rows.setOut.map((plants) => 1 / (1 + Math.max(0, plants - 1) * correlation));
    return { correlation, weights, model: binomialModel({ ...rows, weights }, variables, terms, "known") };
  };
  const excess = ({ model }: { model: GeneralisedModel }) => model.pearson - model.residualDf;
  const none = at(0);
  if (none.model.residualDf === 0) return { ...none, reason: "no residual df" };
  if (excess(none) <= 0) return { ...none, reason: "no more scatter than binomial" };
  if (excess(at(1)) >= 0) return { ...at(1), reason: null };
  return { ...at(rootBetween((correlation) => excess(at(correlation)), 0, 1)), reason: null };
}
