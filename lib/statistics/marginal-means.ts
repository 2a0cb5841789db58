import { type ContrastEstimate, contrast } from "./contrast";
import { designRow } from "./design-matrix";
import { isFactor } from "./factor";
import type { FittedModel } from "./linear-model";
import { insist } from "./requirement";

export interface MarginalMean extends ContrastEstimate {
  level: string;
  /** Observations at this level. */
  count: number;
}

/** b − a, or whichever pair was asked for: always `level` less `reference`. */
export interface MarginalDifference extends ContrastEstimate {
  level: string;
  reference: string;
}

/**
 * The mean of each level of a factor, averaged over the levels of every other factor, each weighing the same however
 * many plots it kept.
 *
 * For varieties in blocks with missing plots, where the bare means would reward a variety for standing in good blocks.
 *
 * @param within levels at which other factors are held, such as `{ cover: "net" }`; the rest are averaged
 * @param level confidence level
 *
 * Edges: a mean that the plots do not tell is null, *not estimable*; others in the same table stand.
 * Source: searle-1980.
 * Checked: tests/reference/analysis-of-variance and tests/reference/mixed-model (R emmeans).
 * Example: variety means of the example in `linearModel` → A 3.5, B 6.5, each with standard error 0.707 on 1 df.
 */
export function marginalMeans(
  model: FittedModel,
  factorName: string,
  level: number,
  within: Readonly<Record<string, string>> = {},
): MarginalMean[] {
  const { levels, codes } = factorOf(model, factorName);
  return levels.map((name, code) => ({
    level: name,
    count: codes.filter((one) => one === code).length,
    ...contrast(model, designRow(model.design, { ...within, [factorName]: name }), level),
  }));
}

/**
 * Differences of marginal means with t limits not yet adjusted for their number: hand them to `tukeyKramer`, `dunnett`
 * or `holm`.
 *
 * @param pairs [level, reference]; the difference is level − reference
 * @param within as in `marginalMeans`
 */
export function marginalDifferences(
  model: FittedModel,
  factorName: string,
  pairs: readonly (readonly [string, string])[],
  level: number,
  within: Readonly<Record<string, string>> = {},
): MarginalDifference[] {
  return pairs.map(([one, reference]) => ({
    level: one,
    reference,
    ...contrast(model, differenceRow(model, factorName, one, reference, within), level),
  }));
}

/** Weights on the design's columns of one level's marginal mean less another's. */
export function differenceRow(
  model: FittedModel,
  factorName: string,
  one: string,
  reference: string,
  within: Readonly<Record<string, string>> = {},
): Float64Array {
  const row = designRow(model.design, { ...within, [factorName]: one });
  const other = designRow(model.design, { ...within, [factorName]: reference });
  return row.map((value, column) => value - other[column]);
}

/** Every pair of levels, the later less the earlier. */
export function allPairs(levels: readonly string[]): [string, string][] {
  return levels.flatMap((later, place) =>
    levels.slice(0, place).map((earlier): [string, string] => [later, earlier]),
  );
}

function factorOf(model: FittedModel, name: string) {
  const found = model.design.variables.find((variable) => variable.name === name);
  insist(found !== undefined && isFactor(found), "marginalMeans", "a factor of the model", name);
  return found;
}
