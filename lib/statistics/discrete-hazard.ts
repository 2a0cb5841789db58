import { type BinomialLink, binomialModel } from "./binomial-model";
import { chiSquareUpper } from "./chi-square";
import { type ContrastEstimate, contrast } from "./contrast";
import { designRow } from "./design-matrix";
import { type Factor, factor } from "./factor";
import { insist } from "./requirement";

/** Plants of one group (and block) in one period between two inspections. */
export interface PeriodCount {
  period: number;
  group: string;
  /** Null when groups are not compared within blocks. */
  block: string | null;
  /** Plants standing and watched when the period began. */
  atRisk: number;
  /** Of them, lost by its end. */
  lost: number;
}

export interface DiscreteHazard {
  /** Log hazard ratio (log odds ratio under logit) of each group to the first. */
  groups: ({ group: string } & ContrastEstimate)[];
  /** Likelihood ratio of all groups at once; null with one group, or without losses. */
  test: { chiSquare: number; df: number; p: number } | null;
}

/**
 * How much faster groups lose plants, when losses are seen only at common inspections: the proportional hazards model in
 * discrete time.
 *
 * **It takes plants as independent: for the working.** Under the complementary log–log link its ratios are those of
 * hazards in continuous time, however far apart the inspections.
 *
 * @param counts a life table by group: one row for each period, group and block
 * @param level confidence level
 *
 * Conventions: one intercept a period; normal limits.
 * Edges: a period in which nobody was lost says nothing and is left out; a group that lost none has no finite
 * ratio, and is not estimable.
 * Source: prentice-gloeckler-1978.
 * Checked: tests/reference/discrete-time (R glm, binomial(cloglog) and binomial(logit)).
 * Example: Gehan's data in periods of 5 weeks → log hazard ratio of control 1.747, standard error 0.427.
 */
export function discreteHazard(
  counts: readonly PeriodCount[],
  level: number,
  link: BinomialLink = "cloglog",
): DiscreteHazard {
  for (const { atRisk, lost } of counts)
    insist(
      lost >= 0 && lost <= atRisk && Number.isFinite(atRisk),
      "discreteHazard",
      "0 ≤ lost ≤ atRisk",
      `${lost} of ${atRisk}`,
    );
  const names = [...new Set(counts.map((count) => count.group))];
  const lostIn = new Map<number, number>();
  for (const { period, lost } of counts) lostIn.set(period, (lostIn.get(period) ?? 0) + lost);
  const told = counts.filter(({ period, atRisk }) => atRisk > 0 && (lostIn.get(period) ?? 0) > 0);
  const nothing = { estimate: null, se: null, df: null, low: null, high: null, t: null, p: null };
  const missing = (group: string) => ({ group, ...nothing, reason: "not estimable" as const });
  if (told.length === 0) return { groups: names.slice(1).map(missing), test: null };
  const rows = { hits: told.map((count) => count.lost), setOut: told.map((count) => count.atRisk) };
  const periods = factor(
    "period",
    told.map((count) => String(count.period)),
  );
  const groups = factor(
    "group",
    told.map((count) => count.group),
    names,
  );
  const blocks = told.some((count) => count.block !== null)
    ? [
        factor(
          "block",
          told.map((count) => String(count.block)),
        ),
      ]
    : [];
  const base: Factor[] = [periods, ...blocks];
  const terms = base.map(({ name }) => [name]);
  const without = binomialModel(rows, base, terms, "known", link);
  const full = binomialModel(rows, [...base, groups], [...terms, ["group"]], "known", link);
  const df = without.residualDf - full.residualDf;
  const chiSquare = Math.max(0, without.deviance - full.deviance);
  const reference = names[0];
  const at = (group: string) => designRow(full.design, { group });
  return {
    groups: names.slice(1).map((group) => {
      if (!groups.levels.includes(group) || !groups.levels.includes(reference)) return missing(group);
      const zero = at(reference);
      const weights = at(group).map((value, column) => value - zero[column]);
      return { group, ...contrast(full, weights, level) };
    }),
    test: df === 0 ? null : { chiSquare, df, p: chiSquareUpper(chiSquare, df) },
  };
}
