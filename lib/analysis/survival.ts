import { agrestiCoullInterval } from "@/lib/statistics/agresti-coull-interval";
import { clopperPearsonInterval } from "@/lib/statistics/clopper-pearson-interval";
import { jeffreysInterval } from "@/lib/statistics/jeffreys-interval";
import { newcombeDifference } from "@/lib/statistics/newcombe-difference";
import type { PlotCount } from "@/lib/statistics/plot-count";
import { publishedDesignEffect } from "@/lib/statistics/published-design-effect";
import { randomStream } from "@/lib/statistics/random-stream";
import type { RandomisationTest } from "@/lib/statistics/randomisation-test";
import { smallestP } from "@/lib/statistics/smallest-p";
import type { FollowedPlot } from "@/lib/statistics/standing-limits";
import { survivalRandomisation } from "@/lib/statistics/survival-randomisation";
import { wilsonInterval } from "@/lib/statistics/wilson-interval";
import { cite } from "./cite";
import type {
  Difference,
  Finding,
  OtherInterval,
  Redealt,
  Survival,
  SurvivalOfVariety,
  SurvivalWorking,
} from "./finding";
import { firstDay, followedPlot } from "./followed-plot";
import {
  isCompleteSquare,
  isLookSee,
  isVarietyOnMainPlots,
  neighbourhood,
  plotCount,
  survivalLayout,
} from "./layout";
import type { PlotStand } from "./plot-stand";
import { fitShares, type ShareFit, type ShareRequest } from "./share-fit";
import { countOf } from "./stand-counts";
import { survivalOfMain } from "./survival-of-main";
import { logRankRedealt, otherDifferences, quasiBinomial } from "./survival-others";
import type { TrialRecord } from "./trial-record";

export interface SurvivalRequest extends ShareRequest {
  step: Survival["step"];
  /** Whether to deal the layout again for p; it takes tens of milliseconds. */
  redeal: boolean;
}

const method = {
  name: "effective plants: Wilson's interval on plants cut down by the clumping that the plots show",
  sources: cite(
    "wilson-1927",
    "newcombe-1998-difference",
    "franco-2019",
    "hurlbert-1984",
    "sato-1989",
    "miettinen-nurminen-1985",
    "firth-1993",
    "cox-1972",
    "mantel-1966",
  ),
};

/** How many deals are drawn where there are too many to go through; with the one made, 20,000. */
const dealsDrawn = 19_999;

/**
 * Survival of each variety on one day with limits that know that plants of one plot share their fate, differences to
 * the check and of every pair, and what other methods would have said. Null where no plot held plants.
 */
export function survivalFinding(request: SurvivalRequest): Finding<Survival> | null {
  const { record, step, stands, asOf, level } = request;
  const held = stands.filter((stand) => stand.setOut > 0);
  if (held.length === 0) return null;
  const fit = fitShares(request, 1);
  const varieties = record.varieties.map((variety) => ofVariety(variety, stands, fit));
  const pairs = allPairs(varieties).map(([variety, reference]) => difference(variety, reference, fit.level));
  const check = varieties.find((variety) => variety.variety === record.check && variety.plots > 0);
  const differences = check ? toCheck(request, varieties, check, fit) : pairs;
  const counts = dealtCounts(record, stands);
  const test = request.redeal ? dealtAgain(record, counts, differences) : null;
  return {
    value: {
      step,
      icc: fit.clumping.mean,
      df: fit.dispersion.df,
      smallestP: smallestPOf(record, counts, differences),
      varieties,
      differences: test ? withRandomisation(differences, test) : differences,
      pairs,
      main: record.design === "split-plot" ? survivalOfMain(record, stands, level) : null,
      lookSee: isLookSee(record),
      working: {
        dispersion: fit.dispersion.f,
        effectiveDf: fit.dispersion.effectiveDf,
        clusterSize: fit.dispersion.clusterSize,
        multipliers: fit.shares.map(({ variety, multiplier }) => ({ variety, multiplier })),
        others: otherIntervals(counts, level),
        ...furtherWorking(request, counts, differences),
        leaveOneOut: record.varieties.flatMap((variety) => mostTelling(variety, held)),
        redealt: test && redealtFrom(differences, test),
      },
    },
    plants: held.reduce((sum, stand) => sum + stand.setOut, 0),
    plots: held.length,
    asOf,
    method,
    scale: step === "wintered" ? "share of the plants that took" : "share of plants set out",
    level,
    cautions: [],
  };
}

/** What takes longer and is asked for less; left out with the deals, and in beds where varieties stand but once. */
function furtherWorking(
  { record, stands, from, asOf, level, redeal }: SurvivalRequest,
  counts: PlotCount[],
  differences: Difference[],
): Pick<SurvivalWorking, "otherDifferences" | "deviance" | "logRank"> {
  if (!redeal || isLookSee(record) || !isDealable(record, counts, differences))
    return { otherDifferences: [], deviance: [], logRank: [] };
  const start = from ?? firstDay(stands) ?? asOf;
  const known = new Map(stands.map((stand) => [stand.plot, stand]));
  const followed = record.plots.map((plot): FollowedPlot => {
    const stand = known.get(plot);
    if (stand) return followedPlot(record, stand, start, asOf);
    const { variety, row, column } = plot;
    return { variety, block: neighbourhood(plot, record.design), row, column, times: [], causes: [] };
  });
  return {
    otherDifferences: otherDifferences(record, counts, followed, differences, level),
    deviance: quasiBinomial(record, counts),
    logRank: logRankRedealt(record, followed, differences, dealsDrawn),
  };
}

/** Every plot that was dealt, those of which nothing is known with no plants. */
function dealtCounts(record: TrialRecord, stands: PlotStand[]): PlotCount[] {
  const known = new Map(stands.map((stand) => [stand.plot, stand]));
  return record.plots.map((plot) => {
    const stand = known.get(plot);
    return stand ? countOf(record, stand) : plotCount(plot, record.design, { setOut: 0, standing: 0 });
  });
}

function ofVariety(variety: string, stands: PlotStand[], fit: ShareFit): SurvivalOfVariety {
  const own = stands.filter((stand) => stand.plot.variety === variety && stand.setOut > 0);
  const share = fit.shares.find((one) => one.variety === variety);
  return {
    variety,
    plots: own.length,
    plants: own.reduce((sum, stand) => sum + stand.setOut, 0),
    standing: own.reduce((sum, stand) => sum + stand.standing, 0),
    censored: own.reduce((sum, stand) => sum + stand.takenOut, 0),
    estimate: share?.share ?? null,
    low: share?.low ?? null,
    high: share?.high ?? null,
    effectivePlants: share?.effectivePlants ?? null,
  };
}

/** Every pair, the earlier in entry order as the reference. */
function allPairs<Entry>(entries: Entry[]): [Entry, Entry][] {
  return entries.flatMap((reference, place) =>
    entries.slice(place + 1).map((variety): [Entry, Entry] => [variety, reference]),
  );
}

type Weighed = Pick<SurvivalOfVariety, "variety" | "estimate" | "effectivePlants">;

function limitsOf(a: Weighed, b: Weighed, level: number) {
  if (a.estimate === null || b.estimate === null || !a.effectivePlants || !b.effectivePlants) return null;
  return newcombeDifference(
    { share: a.estimate, plants: a.effectivePlants },
    { share: b.estimate, plants: b.effectivePlants },
    level,
  );
}

function difference(variety: Weighed, reference: Weighed, level: number): Difference {
  const limits = limitsOf(variety, reference, level);
  return {
    variety: variety.variety,
    reference: reference.variety,
    estimate: limits?.estimate ?? null,
    low: limits?.low ?? null,
    high: limits?.high ?? null,
    lowFamily: null,
    highFamily: null,
    p: null,
    pFamily: null,
  };
}

/** Differences to the check: limits for each alone, and limits for all of them at once. */
function toCheck(
  request: SurvivalRequest,
  varieties: SurvivalOfVariety[],
  check: SurvivalOfVariety,
  fit: ShareFit,
): Difference[] {
  const others = varieties.filter((variety) => variety !== check);
  if (others.length === 0) return [];
  const family = fitShares(request, others.length);
  const inFamily = (name: string): Weighed => {
    const share = family.shares.find((one) => one.variety === name);
    return {
      variety: name,
      estimate: share?.share ?? null,
      effectivePlants: share?.effectivePlants ?? null,
    };
  };
  return others.map((variety) => {
    const nearest = fit.nearest?.get(variety.variety);
    if (nearest) return { ...difference(variety, check, fit.level), ...nearest };
    const together = limitsOf(inFamily(variety.variety), inFamily(check.variety), family.level);
    return {
      ...difference(variety, check, fit.level),
      lowFamily: together?.low ?? null,
      highFamily: together?.high ?? null,
    };
  });
}

function pairsOf(differences: Difference[]): [string, string][] {
  return differences.map(({ variety, reference }): [string, string] => [variety, reference]);
}

function isDealable(record: TrialRecord, counts: PlotCount[], differences: Difference[]): boolean {
  const dealt = new Set(counts.map((count) => count.variety));
  const known = differences.every(({ variety, reference }) => dealt.has(variety) && dealt.has(reference));
  if (record.design === "split-plot" && isVarietyOnMainPlots(record)) return false;
  return differences.length > 0 && known && (record.design !== "latin" || isCompleteSquare(record));
}

function smallestPOf(record: TrialRecord, counts: PlotCount[], differences: Difference[]): number | null {
  if (!isDealable(record, counts, differences)) return null;
  return smallestP(counts, survivalLayout(record), pairsOf(differences));
}

/** The luck of the draw: the layout dealt again as it was dealt, all deals or 20,000 of them seeded by the trial. */
function dealtAgain(
  record: TrialRecord,
  counts: PlotCount[],
  differences: Difference[],
): RandomisationTest | null {
  if (!isDealable(record, counts, differences)) return null;
  return survivalRandomisation(
    counts,
    survivalLayout(record),
    pairsOf(differences),
    dealsDrawn,
    randomStream(record.seed),
  );
}

function withRandomisation(differences: Difference[], { comparisons }: RandomisationTest): Difference[] {
  return differences.map((one, place) =>
    one.estimate === null ? one : { ...one, p: comparisons[place].p, pFamily: comparisons[place].pFamily },
  );
}

const binsDrawn = 40;

/** The deals' clearest comparisons in bins of one width; the test works with squares, their roots are drawn. */
function redealtFrom(differences: Difference[], test: RandomisationTest): Redealt | null {
  const roots = Array.from(test.clearest, Math.sqrt);
  const seen = Array.from(test.seen, Math.sqrt);
  const top = roots.reduce((most, value) => Math.max(most, value), Math.max(...seen));
  if (top === 0) return null;
  const bins = Array.from({ length: binsDrawn }, (_, place) => ({
    from: (place * top) / binsDrawn,
    to: ((place + 1) * top) / binsDrawn,
    deals: 0,
  }));
  for (const value of roots) bins[Math.min(binsDrawn - 1, Math.floor((value / top) * binsDrawn))].deals += 1;
  return {
    deals: test.deals,
    isAll: test.enumerated,
    bins,
    seen: differences.map(({ variety, reference }, place) => ({
      variety,
      reference,
      statistic: seen[place],
    })),
  };
}

/** What the published form, and methods that take plants as independent, would have said. */
function otherIntervals(counts: PlotCount[], level: number): OtherInterval[] {
  const totals = new Map<string, { standing: number; setOut: number }>();
  for (const { variety, standing, setOut } of counts) {
    const total = totals.get(variety) ?? { standing: 0, setOut: 0 };
    totals.set(variety, { standing: total.standing + standing, setOut: total.setOut + setOut });
  }
  const independent = (
    name: string,
    interval: (standing: number, setOut: number, level: number) => { low: number; high: number },
  ): OtherInterval => ({
    method: name,
    takesPlantsAsIndependent: true,
    varieties: [...totals].map(([variety, { standing, setOut }]) => ({
      variety,
      ...(setOut > 0 ? interval(standing, setOut, level) : { low: null, high: null }),
    })),
  });
  const published = publishedDesignEffect(counts, level);
  return [
    {
      method: "published form",
      takesPlantsAsIndependent: false,
      varieties: published.varieties.map(({ variety, low, high }) => ({ variety, low, high })),
    },
    independent("Wilson", wilsonInterval),
    independent("Clopper–Pearson", clopperPearsonInterval),
    independent("Jeffreys", jeffreysInterval),
    independent("Agresti–Coull", agrestiCoullInterval),
  ];
}

/** The plot of a variety without which its share would move most. */
function mostTelling(
  variety: string,
  stands: PlotStand[],
): { variety: string; plot: string; share: number }[] {
  const own = stands.filter((stand) => stand.plot.variety === variety);
  if (own.length < 2) return [];
  const shareOf = (some: PlotStand[]) => {
    const counted = some.reduce((sum, stand) => sum + stand.setOut - stand.takenOut, 0);
    return counted === 0 ? null : some.reduce((sum, stand) => sum + stand.standing, 0) / counted;
  };
  const whole = shareOf(own);
  if (whole === null) return [];
  const without = own.flatMap((left) => {
    const share = shareOf(own.filter((stand) => stand !== left));
    return share === null ? [] : [{ variety, plot: left.plot.code, share }];
  });
  const most = without.sort((a, b) => Math.abs(b.share - whole) - Math.abs(a.share - whole))[0];
  return most ? [most] : [];
}
