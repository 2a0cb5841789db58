import type { Day } from "@/lib/words/day";
import type { MainFactor } from "@/lib/words/trial";
import type { AnalysedDesign } from "./trial-record";

/** A warning that stands beside the number that it concerns. `code` is stable, `text` is for reading. */
export interface Caution {
  code: string;
  text: string;
}

/**
 * A result that carries its own footnotes: how many plants and plots it rests on, as of which day, by which method and
 * on which scale, and what to beware of. No bare number leaves `lib/analysis`.
 */
export interface Finding<Value> {
  value: Value;
  plants: number;
  plots: number;
  asOf: Day | null;
  method: { name: string; sources: string[] };
  /** What the numbers are: *share of plants*, *g per plant set out*. */
  scale: string;
  level: number;
  cautions: Caution[];
}

/** One variety's survival. `estimate` and limits are null where there is nothing to estimate; a caution says why. */
export interface SurvivalOfVariety {
  variety: string;
  plots: number;
  plants: number;
  standing: number;
  /** Plants out of the reckoning (cut, moved, known accident): neither standing nor lost. */
  censored: number;
  estimate: number | null;
  low: number | null;
  high: number | null;
  effectivePlants: number | null;
}

/** Always variety − reference. */
export interface Difference {
  variety: string;
  reference: string;
  estimate: number | null;
  low: number | null;
  high: number | null;
  /** Limits made for all comparisons with the check at once; null for other pairs. */
  lowFamily: number | null;
  highFamily: number | null;
  /** Randomisation p of the pair, and of the family against the check (single-step max-T). Null when not computed. */
  p: number | null;
  pFamily: number | null;
}

export interface Survival {
  /** `took`, `wintered` given it took, or `both`. */
  step: "took" | "wintered" | "both";
  icc: number | null;
  df: number;
  /** The smallest p that the layout can give, against the check; null without a check. */
  smallestP: number | null;
  varieties: SurvivalOfVariety[];
  /** Against the check; without a check, every pair. */
  differences: Difference[];
  /** Every pair of varieties, earlier in entry order as reference. */
  pairs: Difference[];
  /** Covers or sowing dates, where whole main plots were dealt them; otherwise null. */
  main: SurvivalOfMain | null;
  /** True for a bed in which entries stand once and a check is repeated: each is set against its nearest checks. */
  lookSee: boolean;
  working: SurvivalWorking;
}

/** A share with its limits, of anything but a variety. */
export type ShareOf<Name extends string> = Omit<SurvivalOfVariety, "variety"> & Record<Name, string>;

/** Survival under what whole main plots were dealt, of every variety under each, and whether the two depend on each other. */
export interface SurvivalOfMain {
  factor: MainFactor;
  /** Main plots' blocks less one, by treatments less one. */
  df: number;
  treatments: ShareOf<"treatment">[];
  /** a − b; null limits where the main plots can only be described. */
  differences: { a: string; b: string; estimate: number | null; low: number | null; high: number | null }[];
  cells: (SurvivalOfVariety & { treatment: string })[];
  /** (variety − reference) under a, less the same under b. */
  interactions: {
    variety: string;
    reference: string;
    a: string;
    b: string;
    estimate: number | null;
    low: number | null;
    high: number | null;
  }[];
}

/** The share of a variety's plants lost to a cause by each look, where other causes may come first. */
export interface CauseCurve {
  variety: string;
  cause: string;
  steps: { day: Day; share: number }[];
}

/** Scores of one trait on one day, plot by plot. */
export interface ScoreAnalysis {
  trait: string;
  unit: "score" | "percent";
  day: Day;
  varieties: { variety: string; plots: number; median: number; lowest: number; highest: number }[];
  /** How often a plot of the variety scores higher than one of the check, ties counting half. */
  differences: {
    variety: string;
    reference: string;
    superiority: number | null;
    low: number | null;
    high: number | null;
    z: number | null;
    p: number | null;
    /** p for all comparisons with the check together (Holm). */
    pFamily: number | null;
  }[];
  /** Area under the progress curve where the trait was scored on several days; analysed as yield. */
  progress: { days: Day[]; varieties: YieldMean[]; differences: ModelDifference[] } | null;
}

/** Counts of one trait, plot by plot, added up over the days on which every plot was counted. */
export interface CountAnalysis {
  trait: string;
  days: Day[];
  per: "plant" | "plot";
  /** Pearson's X² over the residual df: 1 where counts scatter as independent ones would. */
  dispersion: number | null;
  residualDf: number;
  varieties: {
    variety: string;
    plots: number;
    count: number;
    rate: number | null;
    low: number | null;
    high: number | null;
  }[];
  differences: {
    variety: string;
    reference: string;
    ratio: number | null;
    low: number | null;
    high: number | null;
    p: number | null;
    /** p for all comparisons with the check together (Holm). */
    pFamily: number | null;
  }[];
}

/** One of the other methods beside ours, for whoever asks how far the choice of method matters. */
export interface OtherInterval {
  method: string;
  /** True where the method takes every plant as independent, which plants in one plot are not. */
  takesPlantsAsIndependent: boolean;
  varieties: { variety: string; low: number | null; high: number | null }[];
}

/** Differences as one of the other methods has them; an end that a method leaves open is null. */
export interface OtherDifferences {
  method: string;
  scale: "difference" | "odds ratio" | "hazard ratio";
  takesPlantsAsIndependent: boolean;
  differences: {
    variety: string;
    reference: string;
    estimate: number | null;
    low: number | null;
    high: number | null;
    p: number | null;
  }[];
}

/** How clear the clearest comparison was in every deal of the layout, and how clear each was in the deal made. */
export interface Redealt {
  /** Deals gone through, the one made included. */
  deals: number;
  /** Whether these were all the deals there are. */
  isAll: boolean;
  bins: { from: number; to: number; deals: number }[];
  seen: { variety: string; reference: string; statistic: number }[];
}

/** What a statistician wants to see of the survival analysis. */
export interface SurvivalWorking {
  /** Residual mean square over the mean binomial variance of the plots, and the df it is worth; null without df. */
  dispersion: number | null;
  effectiveDf: number;
  /** Plants per plot at which the dispersion stands. */
  clusterSize: number;
  multipliers: { variety: string; multiplier: number | null }[];
  /** Published form and methods that take plants as independent; none of them feeds a verdict. */
  others: OtherInterval[];
  /** The same of differences; only beside p by dealing again, and where comparisons are few. */
  otherDifferences: OtherDifferences[];
  /** Quasi-binomial analysis of deviance, terms in the order fitted. */
  deviance: { term: string; df: number; deviance: number; f: number | null; p: number | null }[];
  /** p of the log-rank test with whole plots dealt again; beside p of the shares. */
  logRank: { variety: string; reference: string; p: number; pFamily: number }[];
  /** "Leave this plot out and the share becomes…", for the plot of each variety that matters most. */
  leaveOneOut: { variety: string; plot: string; share: number }[];
  /** Null where the layout was not dealt again. */
  redealt: Redealt | null;
}

export interface LossShare {
  variety: string;
  cause: string;
  plants: number;
  share: number | null;
  low: number | null;
  high: number | null;
}

/** Share standing after each inspection; steps hold until the next day given. `atRisk` are the plants still watched. */
export interface StandingCurve {
  variety: string;
  steps: { day: Day; atRisk: number; standing: number; low: number | null; high: number | null }[];
  /** Mean days standing from the first day to the last; null where plants were not watched that long. */
  meanDays: number | null;
  /** The day by which half of the plants were seen to be lost; null where more than half stood throughout. */
  halfLostOn: Day | null;
  /** Where plots were looked at on different days: stretches that hold losses, which the record cannot date any closer. */
  stretches: { from: Day; to: Day; before: number; after: number }[];
}

export type YieldPer = "plant" | "m2" | "standing" | "plot";

export interface AnovaRow {
  term: string;
  df: number;
  /** Denominator df where it is not the residual's own (mixed models); null otherwise. */
  df2: number | null;
  ss: number | null;
  ms: number | null;
  f: number | null;
  p: number | null;
}

export interface YieldMean {
  variety: string;
  plots: number;
  mean: number | null;
  se: number | null;
  df: number | null;
  low: number | null;
  high: number | null;
}

/** A variety less the check on a model's own scale, with limits and p for all such comparisons at once. */
export interface ModelDifference {
  variety: string;
  reference: string;
  estimate: number | null;
  se: number | null;
  df: number | null;
  low: number | null;
  high: number | null;
  p: number | null;
}

export interface YieldDifference extends ModelDifference {
  ratio: number | null;
  ratioLow: number | null;
  ratioHigh: number | null;
  /** How many of the variety's plots yielded nothing. */
  plotsWipedOut: number;
}

/** a − b, with limits and p made for all pairs at once. */
export interface YieldPair {
  a: string;
  b: string;
  estimate: number | null;
  se: number | null;
  df: number | null;
  low: number | null;
  high: number | null;
  p: number | null;
}

/** A variance component; null, or 0 at the boundary, with the reason. */
export interface YieldVariance {
  component: string;
  estimate: number | null;
  reason: string | null;
}

/** Means and differences of what whole main plots were dealt, and of every variety under each. */
export interface YieldOfMain {
  factor: MainFactor;
  means: (Omit<YieldMean, "variety"> & { treatment: string })[];
  pairs: YieldPair[];
  cells: (YieldMean & { treatment: string })[];
}

export interface YieldAnalysis {
  per: YieldPer;
  unit: string;
  model: string;
  /** Residual standard deviation in percent of the mean. */
  cv: number | null;
  residualDf: number;
  anova: AnovaRow[];
  varieties: YieldMean[];
  /** Against the check; without a check none. */
  differences: YieldDifference[];
  pairs: YieldPair[];
  /** Variance components where the model has random terms; empty otherwise. */
  variance: YieldVariance[];
  /** Covers or sowing dates, where whole main plots were dealt them; otherwise null. */
  main: YieldOfMain | null;
  picks: YieldPicks;
  working: YieldWorking;
}

export interface FTest {
  f: number;
  df1: number;
  df2: number;
  p: number;
}

/** What a statistician wants to see of the yield analysis. A part is null where the design does not give it. */
export interface YieldWorking {
  residuals: PlotResidual[];
  tukeyOneDf: FTest | null;
  lsd: number | null;
  relativeEfficiency: number | null;
  /** Where completely randomised: the same question without equal variances. */
  welch: FTest | null;
  /** Whether varieties scatter alike, from the plots (from residuals where there are blocks); chooses no method. */
  brownForsythe: FTest | null;
  /** By ranks: where completely randomised, and over complete blocks. */
  kruskalWallis: { statistic: number; df: number; p: number } | null;
  friedman: { statistic: number; df: number; p: number; blocks: number } | null;
  /** Where completely randomised: all pairs without equal variances. */
  gamesHowell: YieldPair[];
  /** The plot whose absence would change the difference to the check most, to what, and whether it would turn it. */
  leaveOneOut: { variety: string; plot: string; difference: number; turns: boolean }[];
  /** p of the pair with the check by re-dealing; beside the model's. */
  randomisation: { variety: string; p: number; pFamily: number }[];
}

/** What the model leaves over of one plot's yield. */
export interface PlotResidual {
  plot: string;
  variety: string;
  fitted: number;
  residual: number;
  /** How far the plot decides its own fit, 0 to 1. */
  leverage: number;
  /** Residual over its own standard error; null where the plot decides its own fit. */
  studentised: number | null;
  /** Where a normal residual of this rank would lie, (rank − 3/8)/(n + 1/4); null beside a null studentised one. */
  normalScore: number | null;
}

/** The trial picks themselves, and what they tell besides the total. */
export interface YieldPicks {
  /** Days on which every plot was asked for. */
  days: Day[];
  /** g a plot, mean over the plots picked, by variety and day. */
  byDay: { day: Day; variety: string; meanG: number; plots: number }[];
  varieties: {
    variety: string;
    /** Picks with something in them, mean a plot. */
    picks: number;
    longestGapDays: number | null;
    /** g a plot a week in the leanest month of the window. */
    leanestMonthG: number | null;
    firstPickOn: Day | null;
    /** The day by which half of the total had been picked. */
    halfTotalOn: Day | null;
    /** Heads or stems, where pieces were counted. */
    pieces: number | null;
  }[];
}

/** What one plot gave, for drawing the bed. */
export interface PlotOutcome {
  plotId: string;
  code: string;
  variety: string;
  block: string | null;
  setOut: number | null;
  standing: number | null;
  lost: number;
  /** The day from which an amendment takes the plot out of the trial. */
  leftOn: Day | null;
  yieldG: number | null;
}

/** Days to first flower stem, by variety. */
export interface BoltingOfVariety {
  variety: string;
  plots: number;
  plotsBolted: number;
  /** The first day on which any plot of the variety showed a flower stem. */
  firstOn: Day | null;
  /** Plots whose first stem came before the clear-by day. */
  boltedEarly: number;
}

/** Evidence on one floor of the rule for one variety. */
export interface FloorEvidence {
  floor: number;
  of: "survival" | "yield";
  probability: number | null;
  /** The cover or sowing it is judged under, where whole main plots were dealt them. */
  under?: string;
}

/** What the rule proposes for one variety; the person decides. */
export interface Proposal {
  variety: string;
  choice: "grow again" | "try once more" | "drop" | null;
  /** What the figures alone would propose, without any cap. */
  onFigures: Proposal["choice"];
  floors: FloorEvidence[];
  /** Why this trial cannot earn *grow again*, whatever its figures: *the tender check stood*. */
  barredBy: string | null;
  /** Why the proposal is lower than the figures alone. */
  cappedBy: string | null;
  /** Whether the figures propose one thing under one cover (or sowing) and another under another. */
  depends: boolean;
  /** Winters (seasons, for a rule without a survival floor) that it rests on, this one included. */
  winters: number;
  reasons: string[];
  /** About how many plots of how many plants more would settle it; null where nothing is to settle or nothing tells. */
  settledBy: { plots: number; plantsPerPlot: number } | null;
}

/** Everything that one trial's record says on one day. A part is null where the record holds nothing to say it from. */
export interface TrialFindings {
  trial: {
    design: AnalysedDesign;
    plots: number;
    /** In entry order. */
    varieties: string[];
    /** How many blocks (replicates where blocks are incomplete); null when completely randomised. */
    blocks: number | null;
    check: string | null;
    tenderCheck: string | null;
    /** Whether the winter tested hardiness: the tender check fell below the floor. Null without one to tell by. */
    tested: boolean | null;
  };
  at: Day | null;
  took: Finding<Survival> | null;
  wintered: Finding<Survival> | null;
  survival: Finding<Survival> | null;
  losses: Finding<LossShare[]> | null;
  standing: Finding<StandingCurve[]> | null;
  causes: Finding<CauseCurve[]> | null;
  yield: Finding<YieldAnalysis> | null;
  scores: Finding<ScoreAnalysis>[];
  counts: Finding<CountAnalysis>[];
  bolting: Finding<BoltingOfVariety[]> | null;
  proposals: Finding<Proposal[]> | null;
  plots: PlotOutcome[];
  /** Cautions on the trial as a whole. */
  cautions: Caution[];
}
