import type { Day } from "@/lib/words/day";

/** A warning that stands beside the number that it concerns. `code` is stable, `text` is for reading. */
export interface Caution {
  code: string;
  text: string;
}

/** Limits of an interval at the finding's level. */
export interface Interval {
  low: number;
  high: number;
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
  differences: Difference[];
}

export interface LossShare {
  variety: string;
  cause: string;
  plants: number;
  share: number | null;
  low: number | null;
  high: number | null;
}

/** Share standing after each inspection; steps hold until the next day given. */
export interface StandingCurve {
  variety: string;
  steps: { day: Day; atRisk: number; standing: number; low: number | null; high: number | null }[];
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

export interface YieldDifference {
  variety: string;
  reference: string;
  estimate: number | null;
  se: number | null;
  df: number | null;
  low: number | null;
  high: number | null;
  p: number | null;
  ratio: number | null;
  ratioLow: number | null;
  ratioHigh: number | null;
  /** How many of the variety's plots yielded nothing. */
  plotsWipedOut: number;
}

export interface YieldAnalysis {
  per: YieldPer;
  unit: string;
  model: string;
  cv: number | null;
  residualDf: number;
  anova: AnovaRow[];
  varieties: YieldMean[];
  differences: YieldDifference[];
}

/** Evidence on one floor of the rule for one variety. */
export interface FloorEvidence {
  floor: number;
  of: "survival" | "yield";
  probability: number | null;
}

/** What the rule proposes for one variety; the person decides. */
export interface Proposal {
  variety: string;
  choice: "grow again" | "try once more" | "drop" | null;
  floors: FloorEvidence[];
  /** Why the proposal is not higher, in words: *the tender check stood*. */
  cappedBy: string | null;
  reasons: string[];
}

/** Everything that one trial's record says on one day. A part is null where the record holds nothing to say it from. */
export interface TrialFindings {
  at: Day | null;
  took: Finding<Survival> | null;
  wintered: Finding<Survival> | null;
  survival: Finding<Survival> | null;
  losses: Finding<LossShare[]> | null;
  standing: Finding<StandingCurve[]> | null;
  yield: Finding<YieldAnalysis> | null;
  proposals: Finding<Proposal[]> | null;
  /** Cautions on the trial as a whole. */
  cautions: Caution[];
}
