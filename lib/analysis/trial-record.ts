import type { Day } from "@/lib/words/day";
import type { Observation } from "@/lib/words/observation";
import type { Assessment, AssessmentName, Design, Rule } from "@/lib/words/trial";

/** A plot as the analysis sees it: who was dealt to it, and what was set out there. */
export interface RecordPlot {
  id: string;
  code: string;
  variety: string;
  block: string | null;
  row: number | null;
  column: number | null;
  cover: string | null;
  plants: number;
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

/**
 * All that `lib/analysis` may know of a trial, whether it came from the database or from two CSV files. `facts` are all
 * observations of the trial's plots, corrections and withdrawn ones included, in any order.
 */
export interface TrialRecord {
  design: Design;
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
}
