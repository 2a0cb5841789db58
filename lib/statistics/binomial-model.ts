import { designMatrix, type Term } from "./design-matrix";
import type { Variable } from "./factor";
import { type Dispersion, type Family, type GeneralisedModel, generalisedModel } from "./generalised-model";
import { insist } from "./requirement";

/** *Logit*: differences are log odds ratios. *Cloglog* (of the share lost): differences are log hazard ratios. */
export type BinomialLink = "logit" | "cloglog";

/** How many of each row's plants have the response (stand, or are lost); a row with none set out tells nothing. */
export interface BinomialRows {
  hits: readonly number[];
  setOut: readonly number[];
  /** Weight of each row beside its plants, as from `williamsWeights`; 1 by default. */
  weights?: readonly number[];
}

/**
 * Logistic (or complementary log–log) regression of counts out of so many, on factors and covariates.
 *
 * With dispersion `pearson` the rows are plots and the scatter between them, beyond the binomial's, sets the standard
 * errors (quasi-binomial): for the working. With `known` **it takes plants as independent**. Neither has finite limits
 * where a variety lost all or none: `firthLogistic` has.
 *
 * @param rows one a plot
 * @param terms in order; put blocks first and varieties last
 *
 * Conventions: dispersion is Pearson's X² over the residual df, never less clumping than seen (it may be below 1); limits
 * and p by t on the residual df.
 * Edges: a variety that lost all or none is `endless` and its contrasts are not estimable; the others stand.
 * Source: mccullagh-nelder-1989, chapter 4.
 * Checked: tests/reference/binomial-models (R glm); by hand in tests/unit/statistics/binomial-model.test.ts.
 * Example: Crowder's Orobanche seeds, seed × extract → interaction −0.778, dispersion 1.862 on 17 df.
 */
export function binomialModel(
  rows: BinomialRows,
  variables: readonly Variable[],
  terms: readonly Term[],
  dispersion: Dispersion,
  link: BinomialLink = "logit",
): GeneralisedModel {
  const { hits, setOut, weights } = rows;
  insist(hits.length === setOut.length, "binomialModel", "as many counts as rows", hits.length);
  for (const [row, plants] of setOut.entries())
    insist(
      hits[row] >= 0 && hits[row] <= plants && Number.isFinite(plants),
      "binomialModel",
      "0 ≤ hits ≤ setOut",
      `${hits[row]} of ${plants}`,
    );
  for (const weight of weights ?? [])
    insist(weight > 0 && Number.isFinite(weight), "binomialModel", "weights > 0", weight);
  const size = setOut.length;
  return generalisedModel(
    "binomialModel",
    designMatrix(variables, terms),
    Float64Array.from(hits, (count, row) => (setOut[row] > 0 ? count / setOut[row] : 0)),
    Float64Array.from(setOut, (plants, row) => plants * (weights?.[row] ?? 1)),
    new Float64Array(size),
    binomialFamily(link),
    dispersion,
  );
}

export function binomialFamily(link: BinomialLink): Family {
  const part = (seen: number, share: number) => (seen === 0 ? 0 : seen * Math.log(seen / share));
  const common = {
    variance: (mean: number) => mean * (1 - mean),
    deviance: (response: number, mean: number) => 2 * (part(response, mean) + part(1 - response, 1 - mean)),
    start: (response: number, weight: number) => (weight * response + 0.5) / (weight + 1),
    atEdge: (response: number, mean: number, weight: number) =>
      (response === 0 && weight * mean < 1e-9) || (response === 1 && weight * (1 - mean) < 1e-9),
  };
  if (link === "logit")
    return {
      ...common,
      mean: (predictor) => {
        const bounded = Math.max(-30, Math.min(30, predictor));
        return 1 / (1 + Math.exp(-bounded));
      },
      predictor: (mean) => Math.log(mean / (1 - mean)),
      slope: (_predictor, mean) => mean * (1 - mean),
    };
  return {
    ...common,
    mean: (predictor) => {
      const hazard = Math.exp(Math.max(-30, Math.min(3.4, predictor)));
      return -Math.expm1(-hazard);
    },
    predictor: (mean) => Math.log(-Math.log1p(-mean)),
    slope: (predictor) => {
      const hazard = Math.exp(Math.max(-30, Math.min(3.4, predictor)));
      return hazard * Math.exp(-hazard);
    },
  };
}
