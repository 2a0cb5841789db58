import { analysisOfDeviance } from "@/lib/statistics/analysis-of-deviance";
import { binomialMixedModel } from "@/lib/statistics/binomial-mixed-model";
import { binomialModel } from "@/lib/statistics/binomial-model";
import { cochranMantelHaenszel } from "@/lib/statistics/cochran-mantel-haenszel";
import { coxRatio, coxRatios } from "@/lib/statistics/cox-ratios";
import { discreteHazard, type PeriodCount } from "@/lib/statistics/discrete-hazard";
import { type Factor, factor } from "@/lib/statistics/factor";
import { firthContrast, firthLogistic } from "@/lib/statistics/firth-logistic";
import { fisherExact } from "@/lib/statistics/fisher-exact";
import { lifeTable } from "@/lib/statistics/life-table";
import { logRankRandomisation } from "@/lib/statistics/log-rank-randomisation";
import { mantelHaenszelDifference } from "@/lib/statistics/mantel-haenszel-difference";
import { mantelHaenszelOddsRatio } from "@/lib/statistics/mantel-haenszel-odds-ratio";
import { differenceRow, marginalDifferences } from "@/lib/statistics/marginal-means";
import { miettinenNurminenDifference } from "@/lib/statistics/miettinen-nurminen-difference";
import type { PlotCount } from "@/lib/statistics/plot-count";
import { randomStream } from "@/lib/statistics/random-stream";
import type { FollowedPlot } from "@/lib/statistics/standing-limits";
import type { Stratum } from "@/lib/statistics/stratum";
import { williamsWeights } from "@/lib/statistics/williams-weights";
import type { Difference, OtherDifferences, SurvivalWorking } from "./finding";
import { survivalLayout } from "./layout";
import type { TrialRecord } from "./trial-record";

/** More comparisons than this are nobody's to read, and the models behind them take long. */
const mostCompared = 12;

type Compared = Pick<Difference, "variety" | "reference">;

/**
 * What other methods would say of the differences, most of which take every plant as independent: for whoever asks how far
 * that matters. None of them feeds a verdict. Empty where comparisons are many.
 */
export function otherDifferences(
  record: TrialRecord,
  counts: PlotCount[],
  followed: FollowedPlot[],
  compared: Compared[],
  level: number,
): OtherDifferences[] {
  const held = counts.filter((count) => count.setOut > 0);
  const present = new Set(held.map((count) => count.variety));
  const told = compared.filter(({ variety, reference }) => present.has(variety) && present.has(reference));
  if (told.length === 0 || told.length > mostCompared) return [];
  const terms = layoutFactors(record, held);
  const variety = factor(
    "variety",
    held.map((count) => count.variety),
    record.varieties,
  );
  const rows = { hits: held.map((count) => count.standing), setOut: held.map((count) => count.setOut) };
  const variables = [...terms, variety];
  const each = variables.map(({ name }) => [name]);
  const plots = factor(
    "plot",
    held.map((_, plot) => `${plot}`),
  );
  const firth = firthLogistic(rows, variables, each);
  const williams = williamsWeights(rows, variables, each).model;
  const perPlot = binomialMixedModel(rows, variables, each, plots);
  const byLooks = new Map(
    [...new Set(told.map(({ reference }) => reference))].map((reference) => [
      reference,
      discreteHazard(periodCounts(followed, reference), level),
    ]),
  );
  const names = [...present];
  const cox = coxRatios(grouped(followed, names), names.length);
  const method = (
    name: string,
    scale: OtherDifferences["scale"],
    of: (one: Compared) => Omit<OtherDifferences["differences"][number], "variety" | "reference"> | null,
    takesPlantsAsIndependent = true,
  ): OtherDifferences => ({
    method: name,
    scale,
    takesPlantsAsIndependent,
    differences: told.map((one) => ({
      variety: one.variety,
      reference: one.reference,
      ...(of(one) ?? { estimate: null, low: null, high: null, p: null }),
    })),
  });
  return [
    method("Mantel–Haenszel (Sato)", "difference", (one) => {
      const strata = strataOf(held, one);
      const found = mantelHaenszelDifference(strata, level);
      return found && { ...limitsOf(found), p: cochranMantelHaenszel(strata, false)?.p ?? null };
    }),
    method("Miettinen–Nurminen", "difference", (one) => {
      const { a, b } = pooled(held, one);
      return { ...limitsOf(miettinenNurminenDifference(a, b, level)), p: null };
    }),
    method("Mantel–Haenszel (Robins–Breslow–Greenland)", "odds ratio", (one) => {
      const found = mantelHaenszelOddsRatio(strataOf(held, one), level);
      return found && { ...limitsOf(found), p: null };
    }),
    method("Firth’s penalised logistic model", "odds ratio", (one) => {
      const found = firthContrast(firth, differenceRow(firth, "variety", one.variety, one.reference), level);
      return { ...limitsOf(found, raised), p: found.p };
    }),
    method("Fisher’s exact test", "odds ratio", (one) => {
      const { a, b } = pooled(held, one);
      if (![a, b].every((count) => Number.isInteger(count.standing) && Number.isInteger(count.setOut)))
        return null;
      const { oddsRatio, low, high, p } = fisherExact(a, b, level);
      return { ...limitsOf({ estimate: oddsRatio, low, high }), p };
    }),
    ...(
      [
        ["Williams’ beta-binomial weights", williams],
        ["Logit model with a random plot", perPlot],
      ] as const
    ).map(([name, model]) =>
      method(
        name,
        "odds ratio",
        (one) => {
          const [found] = marginalDifferences(model, "variety", [[one.variety, one.reference]], level);
          return { ...limitsOf(found, raised), p: found.p };
        },
        false,
      ),
    ),
    method("Complementary log–log model by looks", "hazard ratio", (one) => {
      const found = byLooks.get(one.reference)?.groups.find(({ group }) => group === one.variety);
      return found ? { ...limitsOf(found, raised), p: found.p } : null;
    }),
    method("Cox’s model (Efron)", "hazard ratio", (one) => {
      const found = coxRatio(cox, names.indexOf(one.variety), names.indexOf(one.reference), level);
      return found && { ...limitsOf(found, raised), p: found.p };
    }),
  ];
}

/** Analysis of deviance of a quasi-binomial model: plots' scatter beyond chance as one factor on all variances. */
export function quasiBinomial(record: TrialRecord, counts: PlotCount[]): SurvivalWorking["deviance"] {
  const held = counts.filter((count) => count.setOut > 0);
  const variables = [
    ...layoutFactors(record, held),
    factor(
      "variety",
      held.map((count) => count.variety),
      record.varieties,
    ),
  ];
  const rows = { hits: held.map((count) => count.standing), setOut: held.map((count) => count.setOut) };
  return analysisOfDeviance(
    (terms) => binomialModel(rows, variables, terms, "pearson"),
    variables.map(({ name }) => [name]),
  ).map(({ term, df, deviance, f, p }) => ({ term, df, deviance, f, p }));
}

/** How fast varieties lost plants, by the log-rank test with whole plots dealt again. */
export function logRankRedealt(
  record: TrialRecord,
  followed: FollowedPlot[],
  compared: Compared[],
  deals: number,
): SurvivalWorking["logRank"] {
  if (compared.length === 0 || followed.every(({ times }) => times.length === 0)) return [];
  const test = logRankRandomisation(
    followed,
    survivalLayout(record),
    compared.map(({ variety, reference }): [string, string] => [variety, reference]),
    "log-rank",
    deals,
    randomStream(record.seed),
  );
  return compared.map(({ variety, reference }, place) => ({
    variety,
    reference,
    p: test.pairs[place].p,
    pFamily: test.pairs[place].pFamily,
  }));
}

/** Losses look by look in each block, the reference first, as the model of discrete time asks for them. */
function periodCounts(followed: FollowedPlot[], reference: string): PeriodCount[] {
  const looks = [...new Set(followed.flatMap(({ times }) => Array.from(times)))]
    .filter((day) => day > 0)
    .sort((a, b) => a - b);
  if (looks.length === 0) return [];
  const varieties = [...new Set([reference, ...followed.map(({ variety }) => variety)])];
  const blocks = [...new Set(followed.map(({ block }) => block))];
  return varieties.flatMap((group) =>
    blocks.flatMap((block) => {
      const own = followed.filter((plot) => plot.variety === group && plot.block === block);
      const lifetimes = {
        times: own.flatMap(({ times }) => Array.from(times)),
        causes: own.flatMap(({ causes }) => Array.from(causes)),
      };
      return lifeTable(lifetimes, looks).map(({ to, entering, lost }) => ({
        period: to,
        group,
        block,
        atRisk: entering,
        lost,
      }));
    }),
  );
}

function layoutFactors(record: TrialRecord, counts: PlotCount[]): Factor[] {
  const of = (name: "block" | "row" | "column") =>
    factor(
      name,
      counts.map((count) => String(count[name])),
    );
  const layout = survivalLayout(record);
  if (layout === "latin") return [of("row"), of("column")];
  return layout === "rcbd" ? [of("block")] : [];
}

function pooled(counts: PlotCount[], { variety, reference }: Compared): Stratum {
  const of = (name: string) => {
    const own = counts.filter((count) => count.variety === name);
    return {
      standing: own.reduce((sum, count) => sum + count.standing, 0),
      setOut: own.reduce((sum, count) => sum + count.setOut, 0),
    };
  };
  return { a: of(variety), b: of(reference) };
}

function strataOf(counts: PlotCount[], compared: Compared): Stratum[] {
  return [...new Set(counts.map((count) => count.block))].map((block) =>
    pooled(
      counts.filter((count) => count.block === block),
      compared,
    ),
  );
}

function grouped(followed: FollowedPlot[], names: string[]) {
  const blocks = [...new Set(followed.map((plot) => plot.block))];
  const each = <Value>(of: (plot: FollowedPlot) => ArrayLike<Value>) =>
    followed.flatMap((plot) => Array.from(of(plot)));
  const held = (plot: FollowedPlot, code: number) => new Array<number>(plot.times.length).fill(code);
  return {
    times: each((plot) => plot.times),
    causes: each((plot) => plot.causes),
    groups: each((plot) => held(plot, names.indexOf(plot.variety))),
    blocks: each((plot) => held(plot, blocks.indexOf(plot.block))),
  };
}

/** A log ratio as a ratio; nothing where it has no end. */
function raised(value: number): number | null {
  const ratio = Math.exp(value);
  return Number.isFinite(ratio) ? ratio : null;
}

function limitsOf(
  { estimate, low, high }: { estimate: number | null; low: number | null; high: number | null },
  as: (value: number) => number | null = (value) => (Number.isFinite(value) ? value : null),
) {
  const said = (value: number | null) => (value === null ? null : as(value));
  return { estimate: said(estimate), low: said(low), high: said(high) };
}
