import type { Day } from "@/lib/words/day";
import type { Observation } from "@/lib/words/observation";
import type { Assessment, AssessmentName, Rule } from "@/lib/words/trial";

/** The designs that can be analysed: those that `lib/design` deals, and those that arrive in files. */
export const analysedDesigns = [
  "crd",
  "rcbd",
  "latin",
  "split-plot",
  "augmented",
  "incomplete-blocks",
] as const;
export type AnalysedDesign = (typeof analysedDesigns)[number];

/** A plot as the analysis sees it: who was dealt to it, and what was set out there. */
export interface RecordPlot {
  id: string;
  code: string;
  variety: string;
  /** The complete replicate that holds the plot's block where blocks are incomplete; otherwise null. */
  replicate: string | null;
  block: string | null;
  /** The main plot within its block, where covers, sowing dates or companions were dealt to groups of plots; otherwise null. */
  mainPlot: string | null;
  row: number | null;
  column: number | null;
  cover: string | null;
  /** The crop between its plants, where that differs between plots; null or left out where there is none. */
  companion?: string | null;
  sownOn: Day | null;
  /** Plants to be set out; null where a file does not say, and survival cannot be told. */
  plants: number | null;
  plantedOn: Day | null;
  areaM2: number | null;
}

/** An amendment that the analysis must see: a plot out of the reckoning from a day on, with its reason. */
export interface PlotAmendment {
  plotId: string;
  kind: "excluded" | "missing";
  fromOn: Day;
  reason: string;
}

/** Something done to some beds of a trial and not to the others, or to part of a bed only. */
export interface PartTreatment {
  what: string;
  /** Where, in words. */
  place: string;
  on: Day;
}

/**
 * All that `lib/analysis` may know of a trial, whether it came from the database or from two CSV files. `facts` are all
 * observations of the trial's plots, corrections and withdrawn ones included, in any order.
 */
export interface TrialRecord {
  design: AnalysedDesign;
  /** Seeds the randomisation tests, so that the same data always give the same figures. */
  seed: number;
  /** Variety names in entry order. */
  varieties: string[];
  check: string | null;
  tenderCheck: string | null;
  plots: RecordPlot[];
  facts: Observation[];
  amendments: PlotAmendment[];
  assessments: Assessment[];
  decidingAssessment: AssessmentName;
  rule: Rule | null;
  /** True when the rule was first set, or changed, after the first observation. */
  ruleChangedAfterData: boolean;
  clearBy: Day | null;
  /** Left out where nobody told what was done to the beds. */
  treatedInPart?: PartTreatment[];
}
