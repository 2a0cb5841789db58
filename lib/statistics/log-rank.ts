import { chiSquareUpper } from "./chi-square";
import { type GroupedLifetimes, groupedEvents } from "./grouped-events";

/** *Log-rank*: every loss counts alike. *Peto*: early losses count more, by Peto and Peto's (n + 1) estimate. */
export type LossWeight = "log-rank" | "peto";

export interface LogRank {
  /** Losses by group and those expected were all groups alike, each loss at its weight. */
  observed: number[];
  expected: number[];
  /** Covariance of observed − expected. */
  covariance: number[][];
  chiSquare: number | null;
  df: number;
  p: number | null;
  /** Why there is no test: no losses, or only one group watched when any came. */
  reason: "nothing to compare" | null;
}

/**
 * Compares how fast groups lose plants over the whole time, by log-rank or Peto's test, within blocks if asked.
 *
 * **It takes plants as independent and is for the working only**: its chi-square on plants in plots gives 15–29 % false
 * alarms. `logRankRandomisation` re-deals whole plots and keeps its error rate.
 *
 * @param lifetimes any cause counts as lost
 * @param groups how many groups there are
 *
 * Conventions: deaths before censoring at one time; hypergeometric variance. R's `survdiff(rho = 1)` is neither of the
 * two: it weighs by Kaplan and Meier's curve before the loss.
 * Edges: a group never watched when a loss came has nothing expected and takes no df.
 * Source: mantel-1966; peto-peto-1972.
 * Checked: tests/reference/log-rank (R survdiff; stratified; Peto by its own formula).
 * Example: Gehan's leukaemia data → chi-square 16.79 on 1 df.
 */
export function logRank(lifetimes: GroupedLifetimes, groups: number, weight: LossWeight): LogRank {
  const blocks = groupedEvents("logRank", lifetimes, groups);
  const observed = new Float64Array(groups);
  const expected = new Float64Array(groups);
  const covariance = new Float64Array(groups * groups);
  for (const { lost, gone, watched: atRisk } of blocks) {
    let all = atRisk.reduce((sum, count) => sum + count, 0);
    let peto = 1;
    for (let cell = 0; cell < lost.length; cell += groups) {
      let deaths = 0;
      let leaving = 0;
      for (let group = 0; group < groups; group += 1) {
        deaths += lost[cell + group];
        leaving += gone[cell + group];
      }
      if (deaths > 0) {
        peto *= 1 - deaths / (all + 1);
        const w = weight === "peto" ? peto : 1;
        const spread = all > 1 ? (w * w * deaths * (all - deaths)) / ((all - 1) * all) : 0;
        for (let group = 0; group < groups; group += 1) {
          observed[group] += w * lost[cell + group];
          expected[group] += (w * atRisk[group] * deaths) / all;
          const own = spread * atRisk[group];
          covariance[group * groups + group] += own;
          const part = own / all;
          for (let other = 0; other <= group; other += 1)
            covariance[group * groups + other] -= part * atRisk[other];
        }
      }
      for (let group = 0; group < groups; group += 1) atRisk[group] -= gone[cell + group];
      all -= leaving;
    }
  }
  for (let group = 0; group < groups; group += 1)
    for (let other = 0; other < group; other += 1)
      covariance[other * groups + group] = covariance[group * groups + other];
  const { chiSquare, df } = quadratic(
    observed.map((count, group) => count - expected[group]),
    covariance,
  );
  return {
    observed: Array.from(observed),
    expected: Array.from(expected),
    covariance: Array.from({ length: groups }, (_, group) =>
      Array.from(covariance.subarray(group * groups, (group + 1) * groups)),
    ),
    chiSquare: df === 0 ? null : chiSquare,
    df,
    p: df === 0 ? null : chiSquareUpper(chiSquare, df),
    reason: df === 0 ? "nothing to compare" : null,
  };
}

/** u′V⁻u over the independent part of V, by elimination: what earlier groups explain of a group is taken out first. */
function quadratic(difference: Float64Array, covariance: Float64Array): { chiSquare: number; df: number } {
  const size = difference.length;
  const left = Float64Array.from(covariance);
  const rest = Float64Array.from(difference);
  let chiSquare = 0;
  let df = 0;
  for (let pivot = 0; pivot < size; pivot += 1) {
    const variance = left[pivot * size + pivot];
    if (!(variance > 1e-10 * covariance[pivot * size + pivot])) continue;
    chiSquare += rest[pivot] ** 2 / variance;
    df += 1;
    for (let row = pivot + 1; row < size; row += 1) {
      const ratio = left[row * size + pivot] / variance;
      rest[row] -= ratio * rest[pivot];
      for (let column = pivot + 1; column < size; column += 1)
        left[row * size + column] -= ratio * left[pivot * size + column];
    }
  }
  return { chiSquare, df };
}
