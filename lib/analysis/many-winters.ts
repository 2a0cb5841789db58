import type { Estimate } from "@/lib/statistics/interval";
import { normalQuantile } from "@/lib/statistics/normal";
import { type PooledContrast, pooledContrast, type WinterEstimate } from "@/lib/statistics/pooled-contrast";
import { type PooledSurvival, pooledSurvival } from "@/lib/statistics/pooled-survival";
import { type RandomEffects, randomEffects } from "@/lib/statistics/random-effects";
import type { AssessmentName } from "@/lib/words/trial";
import { cite } from "./cite";
import type { Finding } from "./finding";
import { manyWintersCautions } from "./many-winters-cautions";
import type { VarietyInTrial, WinterShare, YieldOverCheck } from "./variety-in-trial";
import { wintersTogether } from "./winters-together";

/** One trial's share under one set of covers, with the trial it comes from. */
export type WinterLine = WinterShare & Omit<VarietyInTrial, "shares">;

/** What winters are alike in before they are set together: cover, whether it was winter, and the day that decides. */
export interface WintersKind {
  coverKinds: string[];
  isOverWinter: boolean;
  assessment: AssessmentName;
}

/** A pooled answer under one prior scale of the spread between winters. */
export interface PooledAt {
  /** Of the half-normal prior on the spread. */
  scale: number;
  typical: Estimate;
  another: Estimate;
  spread: number;
  /** How likely a typical winter, and another, come to the floor; null without a floor. */
  atLeastFloor: { typical: number; another: number } | null;
}

export interface SurvivalOverWinters {
  /** The floor of the rule last set; null where none was, or one that says nothing. */
  floor: number | null;
  /** With the scale that is shown first, on the logit scale. */
  pooled: PooledAt;
  /** The same with another scale: how far the answer hangs on it. */
  otherScale: PooledAt;
  /** Winters that tested alone, where some did not and some did; null otherwise. */
  testedOnly: PooledAt | null;
}

/** A contrast with the check over winters, on a log scale. */
export interface ContrastOverWinters {
  reference: string;
  of: "yield" | "odds of standing";
  winters: { season: string; estimate: number; se: number }[];
  /** Seasons in which it could not be had on this scale. */
  without: string[];
  pooled: PooledContrast;
  scale: number;
  otherScale: { scale: number; pooled: PooledContrast };
  restricted: RandomEffects;
}

/** What the bed has proved, in one figure: what stands beside the packet's claim. */
export interface Proof {
  kind: WintersKind;
  /** How many winters count. */
  winters: number;
  /** The one winter's own share, or that of a typical winter of several; null where none counts. */
  share: Estimate | null;
  /** Whether a trial is still to be decided. */
  isUnderWay: boolean;
  /** Whether it stood in a look-see bed, which is shown and does not count. */
  isLookSee: boolean;
  /** Whether every winter that counts was one that its tender check stood. */
  isUntested: boolean;
}

/** A variety over the winters that are alike: each, all together, and what another may bring. */
export interface ManyWinters {
  variety: string;
  kind: WintersKind;
  /** Every trial of this kind, the earliest first, whether it counts or not. */
  lines: WinterLine[];
  /** Seasons that count; several trials of one season are one winter. */
  winters: { season: string; trials: number; standing: number; effectivePlants: number }[];
  proof: Proof;
  /** Null where no winter counts yet. */
  survival: SurvivalOverWinters | null;
  /** One for each check that it was measured against. */
  yields: ContrastOverWinters[];
  odds: ContrastOverWinters[];
}

export interface ManyWintersOptions {
  level?: number;
  /** Stands in for `pooledSurvival`, so that what takes a tenth of a second can be kept. */
  pool?: typeof pooledSurvival;
}

/** Scales of the half-normal priors on the spread between winters, the one shown first and the other beside it. */
const logitScales = [1, 0.5] as const;
const logRatioScales = [0.5, 1] as const;

/**
 * A variety over winters: trials under like covers, through a winter or not, judged at the same assessment, are set side
 * by side and together; unlike ones never are. Trials of one season are put together first and count as one winter.
 * Look-see beds, trials still to be assessed and those cut short are shown and do not count. The order in which the
 * trials come changes nothing.
 *
 * One finding for each kind of winter, the one with most winters first.
 */
export function manyWinters(
  variety: string,
  trials: readonly VarietyInTrial[],
  options: ManyWintersOptions = {},
): Finding<ManyWinters>[] {
  const { level = 0.95, pool = pooledSurvival } = options;
  return alike(variety, trials)
    .map((lines) => findingFor(variety, lines, level, pool))
    .sort((a, b) => b.value.winters.length - a.value.winters.length || order(lastPlanted(b), lastPlanted(a)));
}

/** What the bed has proved of a variety, a figure for each kind of winter, those with most winters first. */
export function proofs(
  variety: string,
  trials: readonly VarietyInTrial[],
  options: ManyWintersOptions = {},
): Proof[] {
  const { level = 0.95, pool = pooledSurvival } = options;
  return alike(variety, trials)
    .map((lines) => {
      const counting = lines.filter((line) => line.state === "counts");
      const winters = wintersOf(counting);
      const typical = () => pool(winters, logitScales[0], null, level).typical;
      return { proof: proofOf(lines, counting, winters, typical), last: lines.at(-1)?.trial.plantedOn ?? "" };
    })
    .sort((a, b) => b.proof.winters - a.proof.winters || order(b.last, a.last))
    .map(({ proof }) => proof);
}

/** A variety's lines, the earliest first, in groups of those that may be put together. */
function alike(variety: string, trials: readonly VarietyInTrial[]): WinterLine[][] {
  const lines = trials
    .filter((one) => one.variety === variety)
    .flatMap(linesOf)
    .sort((a, b) => order(a.trial.plantedOn, b.trial.plantedOn) || order(a.trial.trialId, b.trial.trialId));
  const kinds = new Map<string, WinterLine[]>();
  for (const line of lines) kinds.set(kindKey(line), [...(kinds.get(kindKey(line)) ?? []), line]);
  return [...kinds.values()];
}

/** Where covers were dealt to main plots, yields are of all covers together and belong to none of the lines. */
function linesOf({ shares, ...rest }: VarietyInTrial): WinterLine[] {
  const yields = shares.length > 1 ? { yieldRatio: null, yieldMean: null } : {};
  return shares.map((share) => ({ ...rest, ...share, ...yields }));
}

function order(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

function lastPlanted({ value }: Finding<ManyWinters>): string {
  return value.lines.at(-1)?.trial.plantedOn ?? "";
}

function kindOf({ coverKinds, trial, assessment }: WinterLine): WintersKind {
  return { coverKinds, isOverWinter: trial.isOverWinter, assessment };
}

function kindKey(line: WinterLine): string {
  return JSON.stringify(kindOf(line));
}

function findingFor(
  variety: string,
  lines: WinterLine[],
  level: number,
  pool: typeof pooledSurvival,
): Finding<ManyWinters> {
  const counting = lines.filter((line) => line.state === "counts");
  const winters = wintersOf(counting);
  const survival = winters.length > 0 ? survivalOver(counting, winters, level, pool) : null;
  const value: ManyWinters = {
    variety,
    kind: kindOf(lines[0]),
    lines,
    winters,
    proof: proofOf(lines, counting, winters, () => survival?.pooled.typical ?? null),
    survival,
    yields: contrasts("yield", counting, level),
    odds: contrasts("odds of standing", counting, level),
  };
  return {
    value,
    plants: sum(counting, ({ share }) => (share ? share.plants - share.censored : 0)),
    plots: sum(counting, ({ share }) => share?.plots ?? 0),
    asOf: counting.at(-1)?.asOf ?? lines.at(-1)?.asOf ?? null,
    method: {
      name: "effective plants of each winter, binomial about a chance whose logits are normal from winter to winter",
      sources: cite(
        "gelman-2006",
        "gelman-2008",
        "rover-2021",
        "friede-2017",
        "hartung-knapp-2001",
        "rover-2015",
        "higgins-thompson-2002",
      ),
    },
    scale: "share of plants set out",
    level,
    cautions: manyWintersCautions(value),
  };
}

/** Winters that count, trials of one season put together. */
function wintersOf(counting: WinterLine[]): ManyWinters["winters"] {
  return wintersTogether(
    counting.map(({ trial, share }) => ({
      season: trial.season,
      standing: (share?.estimate ?? 0) * (share?.effectivePlants ?? 0),
      effectivePlants: share?.effectivePlants ?? 0,
    })),
  );
}

function proofOf(
  lines: WinterLine[],
  counting: WinterLine[],
  winters: ManyWinters["winters"],
  typical: () => Estimate | null,
): Proof {
  return {
    kind: kindOf(lines[0]),
    winters: winters.length,
    share: winters.length === 0 ? null : (ownLimits(counting) ?? typical()),
    isUnderWay: lines.some((line) => line.state === "so far"),
    isLookSee: lines.some((line) => line.state === "look-see"),
    isUntested: counting.length > 0 && counting.every((line) => line.tested === false),
  };
}

/** With one trial nothing is pooled: its own share with its own limits. */
function ownLimits(counting: WinterLine[]): Estimate | null {
  const { estimate, low, high } = (counting.length === 1 && counting[0].share) || {};
  return estimate == null || low == null || high == null ? null : { estimate, low, high };
}

function sum<Item>(items: Item[], of: (item: Item) => number): number {
  return items.reduce((total, item) => total + of(item), 0);
}

function bySeason<Line extends { trial: { season: string } }>(lines: Line[]): [string, Line[]][] {
  const seasons = new Map<string, Line[]>();
  for (const line of lines) seasons.set(line.trial.season, [...(seasons.get(line.trial.season) ?? []), line]);
  return [...seasons].sort(([a], [b]) => order(a, b));
}

function survivalOver(
  counting: WinterLine[],
  winters: ManyWinters["winters"],
  level: number,
  pool: typeof pooledSurvival,
): SurvivalOverWinters {
  const floors = counting.flatMap((line) => (line.survivalFloor === null ? [] : [line.survivalFloor]));
  const last = floors.at(-1) ?? null;
  // A floor of none or all is met, or missed, whatever happens.
  const floor = last !== null && last > 0 && last < 1 ? last : null;
  const at = (some: ManyWinters["winters"], scale: number): PooledAt => {
    const { typical, another, spread, atLeastFloor }: PooledSurvival = pool(some, scale, floor, level);
    return { scale, typical, another, spread, atLeastFloor };
  };
  const tested = winters.filter(({ season }) =>
    counting.some((line) => line.trial.season === season && line.tested !== false),
  );
  const [first, other] = logitScales;
  return {
    floor,
    pooled: at(winters, first),
    otherScale: at(winters, other),
    testedOnly: tested.length > 0 && tested.length < winters.length ? at(tested, first) : null,
  };
}

type Contrast = ContrastOverWinters["of"];

/** Contrasts with each check over the winters that count; none where no winter gives one. */
function contrasts(of: Contrast, counting: WinterLine[], level: number): ContrastOverWinters[] {
  const references = new Set(
    counting.flatMap((line) => {
      const name = of === "yield" ? line.yieldRatio?.reference : line.difference?.reference;
      return name ? [name] : [];
    }),
  );
  return [...references].flatMap((reference) => {
    const against = counting.filter((line) =>
      of === "yield" ? line.yieldRatio?.reference === reference : line.difference?.reference === reference,
    );
    const told = bySeason(against).map(([season, own]) => ({
      season,
      estimate: togetherInOneWinter(
        own.flatMap((line) => (of === "yield" ? logRatio(line.yieldRatio, level) : logOdds(line))),
      ),
    }));
    const winters = told.flatMap(({ season, estimate }) => (estimate ? [{ season, ...estimate }] : []));
    if (winters.length === 0) return [];
    const [first, other] = of === "yield" ? logRatioScales : logitScales;
    return [
      {
        reference,
        of,
        winters,
        without: told.filter(({ estimate }) => estimate === null).map(({ season }) => season),
        pooled: pooledContrast(winters, first, null, level),
        scale: first,
        otherScale: { scale: other, pooled: pooledContrast(winters, other, null, level) },
        restricted: randomEffects(winters, level),
      },
    ];
  });
}

/**
 * The log of a ratio as a normal estimate whose limits are those shown: where they come of few degrees of freedom, it is
 * that much wider, so that one winter gives back its own interval.
 */
function logRatio(found: YieldOverCheck | null, level: number): WinterEstimate[] {
  if (!found?.isOnLog) return [];
  const z = normalQuantile((1 + level) / 2);
  return [{ estimate: Math.log(found.ratio), se: Math.log(found.high / found.low) / (2 * z) }];
}

/** The log odds of standing against the check's, in effective plants; none where all or none of either stood. */
function logOdds({ share, check }: WinterLine): WinterEstimate[] {
  const odds = [share, check].map((one) => {
    const { estimate, effectivePlants } = one ?? {};
    if (estimate == null || !effectivePlants || estimate <= 0 || estimate >= 1) return null;
    return {
      log: Math.log(estimate / (1 - estimate)),
      variance: 1 / (effectivePlants * estimate * (1 - estimate)),
    };
  });
  const [own, checks] = odds;
  return own && checks
    ? [{ estimate: own.log - checks.log, se: Math.sqrt(own.variance + checks.variance) }]
    : [];
}

/** Trials of one winter as one estimate, each weighed by its precision. */
function togetherInOneWinter(estimates: WinterEstimate[]): WinterEstimate | null {
  if (estimates.length === 0) return null;
  const precision = sum(estimates, ({ se }) => 1 / (se * se));
  return {
    estimate: sum(estimates, ({ estimate, se }) => estimate / (se * se)) / precision,
    se: 1 / Math.sqrt(precision),
  };
}
