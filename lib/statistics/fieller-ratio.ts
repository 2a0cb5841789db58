import { insist } from "./requirement";
import { studentTCdf, studentTQuantile } from "./student-t";

/** Means of a variety and of the check with what is known of their errors. */
export interface PairOfMeans {
  variety: number;
  check: number;
  /** Variances of the two means, and their covariance (0 where plots are not paired). */
  varianceOfVariety: number;
  varianceOfCheck: number;
  covariance: number;
  df: number;
}

/**
 * Why there is no ratio. *No yield*: the variety, or both, gave nothing anywhere. *Check too uncertain*: its mean cannot
 * be told from 0, so the ratio has no bounds; give the difference. *No df*: fewer than two pairs.
 */
export type NoRatio = "no yield" | "check too uncertain" | "no df";

export interface FiellerRatio {
  ratio: number | null;
  low: number | null;
  high: number | null;
  reason: NoRatio | null;
}

/**
 * The pair's means from blocks that hold both, with these two varieties' own variances and covariance of block values:
 * no other variety's scatter enters.
 *
 * @param variety, check yields in the same blocks, one block a place
 * @param treatments what each block was dealt as a whole, where main plots of several treatments are the blocks: the means
 * are then over treatments, each weighing the same, and scatter is that within them. One treatment when left out.
 */
export function pairedMeans(
  variety: readonly number[],
  check: readonly number[],
  treatments: readonly string[] = variety.map(() => ""),
): PairOfMeans {
  const blocks = variety.length;
  insist(
    blocks === check.length && blocks > 0,
    "pairedMeans",
    "a yield of both in every block",
    `${blocks} and ${check.length}`,
  );
  const groups = [...new Set(treatments)].map((one) =>
    treatments.flatMap((treatment, block) => (treatment === one ? [block] : [])),
  );
  const meansOf = (values: readonly number[]) =>
    groups.map((own) => meanOf(own.map((block) => values[block])));
  const [ofVariety, ofCheck] = [meansOf(variety), meansOf(check)];
  const df = blocks - groups.length;
  const perSquare = groups.reduce((sum, own) => sum + 1 / own.length, 0) / groups.length ** 2;
  const product = (
    left: readonly number[],
    atLeft: readonly number[],
    right: readonly number[],
    atRight: readonly number[],
  ) => {
    if (df === 0) return 0;
    const products = groups.flatMap((own, group) =>
      own.map((block) => (left[block] - atLeft[group]) * (right[block] - atRight[group])),
    );
    return (products.reduce((sum, one) => sum + one, 0) / df) * perSquare;
  };
  return {
    variety: meanOf(ofVariety),
    check: meanOf(ofCheck),
    varianceOfVariety: product(variety, ofVariety, variety, ofVariety),
    varianceOfCheck: product(check, ofCheck, check, ofCheck),
    covariance: product(variety, ofVariety, check, ofCheck),
    df,
  };
}

/**
 * The pair's means where plots were not in blocks: separate variances, and the df of the variety with fewer plots, which
 * errs to the wide side.
 */
export function unpairedMeans(variety: readonly number[], check: readonly number[]): PairOfMeans {
  const variance = (values: readonly number[], mean: number) =>
    values.length < 2
      ? 0
      : values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1) / values.length;
  insist(variety.length > 0 && check.length > 0, "unpairedMeans", "at least one plot of each", 0);
  const [a, b] = [meanOf(variety), meanOf(check)];
  return {
    variety: a,
    check: b,
    varianceOfVariety: variance(variety, a),
    varianceOfCheck: variance(check, b),
    covariance: 0,
    df: Math.min(variety.length, check.length) - 1,
  };
}

/**
 * Limits for variety / check where a plot of the pair yielded nothing, by Fieller's theorem.
 *
 * Where no plot of the pair is 0 use `logRatios`. With pooled variances from all varieties the limits cover as low as
 * 75 %; hand over the pair's own (`pairedMeans`).
 *
 * @param level confidence level
 *
 * Edges: t²·Var(check) ≥ check² has no bounded limits: *check too uncertain*, and the difference is given instead; a
 * variety that yielded nothing anywhere has *no yield*; a single block has *no df*. Limits may lie below 0: a yield
 * cannot, so show 0.
 * Source: fieller-1954.
 * Checked: tests/unit/statistics/yield-ratio.test.ts (by hand; both limits solve Fieller's equation).
 * Example: variety 0, 40, 50, 60 against check 100, 90, 110, 100 in four blocks → ratio 0.375.
 */
export function fiellerRatio(means: PairOfMeans, level: number): FiellerRatio {
  insistOnMeans("fiellerRatio", means);
  insist(level > 0 && level < 1, "fiellerRatio", "0 < level < 1", level);
  const { variety, check, varianceOfVariety, varianceOfCheck, covariance, df } = means;
  const none = (reason: NoRatio, ratio: number | null): FiellerRatio => ({
    ratio,
    low: null,
    high: null,
    reason,
  });
  if (variety === 0 && varianceOfVariety === 0) return none("no yield", null);
  if (check === 0) return none("check too uncertain", null);
  if (df < 1) return none("no df", variety / check);
  const t2 = studentTQuantile((1 + level) / 2, df) ** 2;
  const a = check ** 2 - t2 * varianceOfCheck;
  if (a <= 1e-12 * check ** 2) return none("check too uncertain", null);
  const b = variety * check - t2 * covariance;
  const c = variety ** 2 - t2 * varianceOfVariety;
  const root = Math.sqrt(Math.max(0, b * b - a * c));
  return { ratio: variety / check, low: (b - root) / a, high: (b + root) / a, reason: null };
}

/**
 * P(variety / check ≥ floor) by the pair's Fieller pivot, (variety − floor·check) over its own standard error on t.
 * Null without df, or where neither mean varies at all.
 * Checked: tests/unit/statistics/yield-ratio.test.ts (it is (1 + level)/2 at a Fieller limit).
 */
export function fiellerFloorProbability(means: PairOfMeans, floor: number): number | null {
  insistOnMeans("fiellerFloorProbability", means);
  insist(floor >= 0 && Number.isFinite(floor), "fiellerFloorProbability", "a finite floor ≥ 0", floor);
  const variance =
    means.varianceOfVariety - 2 * floor * means.covariance + floor ** 2 * means.varianceOfCheck;
  if (means.df < 1 || !(variance > 0)) return null;
  return studentTCdf((means.variety - floor * means.check) / Math.sqrt(variance), means.df);
}

function insistOnMeans(statistic: string, means: PairOfMeans): void {
  const bad = Object.values(means).find((value) => !Number.isFinite(value));
  insist(bad === undefined, statistic, "finite means and variances", bad ?? "");
  insist(
    means.varianceOfVariety >= 0 && means.varianceOfCheck >= 0,
    statistic,
    "variances ≥ 0",
    `${means.varianceOfVariety}, ${means.varianceOfCheck}`,
  );
}

const meanOf = (values: readonly number[]) =>
  values.reduce((sum, value) => sum + (value - values[0]), 0) / values.length + values[0];
