import { Matrix } from "ml-matrix";
import { isEstimable } from "./contrast";
import type { Coding, Term } from "./design-matrix";
import type { Factor, Variable } from "./factor";
import { hypothesisRows } from "./hypothesis-rows";
import { kenwardRoger, type SmallSample } from "./kenward-roger";
import { type FittedModel, type LinearModel, linearModel } from "./linear-model";
import { type CrossProducts, crossProducts, likelihoodAt } from "./reml-likelihood";
import { restrictedMaximum } from "./restricted-maximum";
import { satterthwaite } from "./satterthwaite";
import { noVarianceRatio, type VarianceRatio } from "./variance-ratio";

/**
 * One variance. *At zero*: the best estimate is none; the likelihood falls from there. *Not estimable*: the term's
 * levels are told apart by nothing that the residual, the fixed terms or earlier random terms do not already say.
 */
export interface VarianceComponent {
  /** Name of the random factor; `residual` for the last. */
  component: string;
  estimate: number | null;
  reason: "at zero" | "not estimable" | "no variation" | null;
}

/** Best linear unbiased predictor of one level of a random factor, with its prediction error. */
export interface Prediction {
  level: string;
  estimate: number;
  se: number;
}

export interface MixedModel extends FittedModel {
  components: VarianceComponent[];
  /** −2 × restricted log likelihood, constants included as lme4 counts them. Null where nothing is left over. */
  deviance: number | null;
  /** Of the random factors, by name; a variance at zero predicts 0. */
  predictions: ReadonlyMap<string, Prediction[]>;
  /** F test of each fixed term, by the type III hypothesis, in the model's order. */
  tests: (VarianceRatio & { term: string })[];
}

/**
 * A linear mixed model by restricted maximum likelihood: fixed factors, and any number of random intercepts, nested or
 * crossed.
 *
 * For plots with more than one error: covers on main plots, incomplete or unbalanced blocks, rows and columns with gaps,
 * repeated harvests, seasons × sites. A balanced split plot has exact tests of its own (`balancedSplitPlot`). Not for
 * counts or shares of plants.
 *
 * @param response one finite number an observation
 * @param variables, terms fixed part, as in `linearModel`
 * @param random one factor a random intercept; nested ones as `crossedFactor` (cover within block)
 * @param small how contrasts and F tests allow for the estimated variances
 * @returns fit for `marginalMeans`, `contrast`, `tukeyKramer`, `dunnett`; with variances, predictions and F tests
 *
 * Conventions: variances are bounded at zero, and one at zero is said; the type III hypotheses are those of equal-weighted
 * marginal means.
 * Edges: random terms that cannot be told from others are left out and said; no residual df gives no standard errors; a
 * model that leaves nothing over gives estimates alone.
 * Source: patterson-thompson-1971; kenward-roger-1997; predictions henderson-1975.
 * Checked: tests/reference/mixed-model (R lme4, lmerTest, pbkrtest, emmeans; plain twin), tests/property/linear-and-mixed-laws.test.ts.
 * Example: Yates's oats → block 214.48, block × variety 106.06, residual 177.08; varieties F 1.485 on 2 and 10 df.
 */
export function mixedModel(
  response: readonly number[],
  variables: readonly Variable[],
  terms: readonly Term[],
  random: readonly Factor[],
  small: "Kenward–Roger" | "Satterthwaite" = "Kenward–Roger",
  coding: Coding = "treatment",
): MixedModel {
  const fixed = linearModel(response, variables, terms, coding);
  if (fixed.leavesNothing) return withoutVariation(fixed, random);
  const all = crossProducts(fixed, random);
  const told = identifiable(all, random);
  const products = told.length === random.length ? all : crossProducts(fixed, told);
  const ratios = restrictedMaximum(products);
  const at = likelihoodAt(products, ratios);
  const coefficients = fixed.coefficients.map((value, place) => value + at.shift.get(place, 0));
  if (Math.max(...ratios) >= 1e6 && nothingWithin(response, variables, terms, told))
    return withoutVariation(fixed, random, coefficients);

  const judged = (small === "Kenward–Roger" ? kenwardRoger : satterthwaite)(products, at);
  const residual = at.variances[told.length];
  const components = random.map(({ name }): VarianceComponent => {
    const term = told.findIndex((one) => one.name === name);
    if (term < 0) return { component: name, estimate: null, reason: "not estimable" };
    const estimate = at.variances[term];
    return { component: name, estimate, reason: estimate === 0 ? "at zero" : null };
  });
  const predictions = new Map(
    told.map(({ name, levels }, term) => [name, predicted(levels, at.variances[term], products, at, term)]),
  );
  const model: MixedModel = {
    design: fixed.design,
    kept: fixed.kept,
    coefficients,
    covariance: judged.covariance,
    aliases: fixed.aliases,
    leavesNothing: false,
    dfOf: judged.dfOf,
    components: [...components, { component: "residual", estimate: residual, reason: null }],
    deviance: at.deviance + products.df * (1 + Math.log(2 * Math.PI)),
    predictions,
    tests: [],
  };
  model.tests = terms.map((term) => ({ term: term.join(" × "), ...termTest(model, term, judged) }));
  return model;
}

function termTest(model: MixedModel, term: Term, judged: SmallSample): VarianceRatio {
  const rows = hypothesisRows(model.design, term);
  if (rows.length === 0 || !rows.every((row) => isEstimable(model, row)))
    return noVarianceRatio(rows.length, "not estimable");
  const onFitted = new Matrix(rows.map((row) => model.kept.map((place) => row[place])));
  const test = judged.jointTest(onFitted, Matrix.columnVector(model.coefficients));
  return test === null ? noVarianceRatio(rows.length, "no residual df") : { ...test, reason: null };
}

/** û = σ²Z'Py, and the variance of û − u, σ²I − σ²Z'PZσ². */
function predicted(
  levels: readonly string[],
  variance: number,
  products: CrossProducts,
  at: ReturnType<typeof likelihoodAt>,
  term: number,
): Prediction[] {
  return levels.map((level, code) => {
    const place = products.starts[term] + code;
    const left = variance - variance * at.zpz.get(place, place) * variance;
    return { level, estimate: variance * at.zpy.get(place, 0), se: Math.sqrt(Math.max(0, left)) };
  });
}

/**
 * The random terms that can be told apart: those whose effect on the spread of the cleared response is not a mixture of
 * the residual's and the earlier ones'. The products of these effects are tr(PG_iPG_j); Cholesky on them, the residual
 * first, meets a pivot of 0 where a term says nothing new. A term that the fixed columns explain has no effect at all.
 */
function identifiable(products: CrossProducts, random: readonly Factor[]): Factor[] {
  const { expected, variances } = likelihoodAt(
    products,
    random.map(() => 0),
  );
  const { zz, starts } = products;
  const uncleared = random.map((_, term) => {
    const own = zz.subMatrix(starts[term], starts[term + 1] - 1, starts[term], starts[term + 1] - 1);
    return (own.norm("frobenius") / variances[random.length]) ** 2;
  });
  const kept: number[] = [];
  const roots: number[][] = [];
  for (const term of [random.length, ...random.keys()]) {
    const root: number[] = [];
    for (const [k, other] of kept.entries()) {
      const explained = root.reduce((sum, value, l) => sum + value * roots[k][l], 0);
      root.push((expected.get(term, other) - explained) / roots[k][k]);
    }
    const left = expected.get(term, term) - root.reduce((sum, value) => sum + value * value, 0);
    if (!(left > Math.max(1e-9 * expected.get(term, term), 1e-20 * (uncleared[term] ?? 0)))) continue;
    roots.push([...root, Math.sqrt(left)]);
    kept.push(term);
  }
  return random.filter((_, term) => kept.includes(term));
}

/** True where fixed and random terms together fit every observation though there are df left over. */
function nothingWithin(
  response: readonly number[],
  variables: readonly Variable[],
  terms: readonly Term[],
  random: readonly Factor[],
): boolean {
  const extra = random.map((one, place) => ({ ...one, name: `random ${place}` }));
  const wider = linearModel(
    response,
    [...variables, ...extra],
    [...terms, ...extra.map(({ name }) => [name])],
  );
  return wider.leavesNothing && wider.residualDf > 0;
}

/** Estimates alone: least squares, or within the random terms where those alone vary. */
function withoutVariation(
  fixed: LinearModel,
  random: readonly Factor[],
  coefficients: Float64Array = fixed.coefficients,
): MixedModel {
  const spent = fixed.residualDf === 0;
  const reason = spent ? "not estimable" : "no variation";
  const { design, kept, aliases, rank } = fixed;
  const names = [...random.map(({ name }) => name), "residual"];
  return {
    design,
    kept,
    coefficients,
    covariance: spent ? null : Matrix.zeros(rank, rank),
    aliases,
    leavesNothing: true,
    dfOf: () => fixed.residualDf,
    components: names.map((component) => ({ component, estimate: null, reason })),
    deviance: null,
    predictions: new Map(),
    tests: design.terms.map((term) => ({
      term: term.join(" × "),
      ...noVarianceRatio(hypothesisRows(design, term).length, spent ? "no residual df" : "no variation"),
    })),
  };
}
