import type { Day } from "./day";
import type { Instant } from "./instant";

/** The designs that can be dealt; `lib/design` holds one file for each. */
export const designs = ["crd", "rcbd", "latin", "split-plot", "augmented", "incomplete-blocks"] as const;
export type Design = (typeof designs)[number];

export const designWords: Record<Design, string> = {
  crd: "completely randomised",
  rcbd: "in blocks",
  latin: "as a Latin square",
  "split-plot": "as a split plot",
  augmented: "as a look-see bed",
  "incomplete-blocks": "in small blocks (an alpha layout)",
};

/** What whole main plots of a split plot are dealt. */
export const mainFactors = ["cover", "sowing", "companion"] as const;
export type MainFactor = (typeof mainFactors)[number];

/** What is dealt to main plots, one and many. */
export const factorWords: Record<MainFactor, { one: string; many: string }> = {
  cover: { one: "cover", many: "covers" },
  sowing: { one: "sowing date", many: "sowing dates" },
  companion: { one: "companion", many: "companions" },
};

/** Which way the ground changes: from one end of the bed to the other, or from one long side to the other. */
export const gradients = ["along", "across"] as const;
export type Gradient = (typeof gradients)[number];

/**
 * Where the path runs as one stands at the end from which a bed is measured and looks along it: the first plot of every
 * line lies on that side. Between: two beds side by side with the path between them.
 */
export const pathSides = ["left", "right", "between"] as const;
export type PathSide = (typeof pathSides)[number];

/** How a companion grows among the crop; it decides when it should go in. */
export const companionHabits = ["slow and upright", "quick"] as const;
export type CompanionHabit = (typeof companionHabits)[number];

/** A crop that stands between the plants: of every plot, or of the main plots that were dealt it. */
export interface Companion {
  name: string;
  habit: CompanionHabit;
  sownOn: Day;
  betweenPlantsMm: number;
}

export const trialStates = ["planned", "running", "closed"] as const;
export type TrialState = (typeof trialStates)[number];

/** What the harvest is wanted for; with variety, cover and sowing window it makes the *use* that a verdict is for. */
export type EntryRole = "check" | "tender-check" | "entry";

export interface Entry {
  id: string;
  varietyId: string;
  variety: string;
  role: EntryRole;
}

/** The smallest piece of ground that a treatment was dealt to. Its place is measured from the bed's path-side left corner. */
export interface Plot {
  id: string;
  /** Stake code, unique in the trial and short enough to read from the path: `A1`. */
  code: string;
  bedId: string;
  entryId: string;
  /** The block's number from 1; null when completely randomised. */
  block: number | null;
  row: number;
  column: number;
  xMm: number;
  yMm: number;
  widthMm: number;
  lengthMm: number;
  /** Plants to be set out, in `plantRows` rows across. */
  plants: number;
  plantRows: number;
}

export const assessmentNames = ["took", "before hard cold", "midwinter", "regrowth", "end"] as const;
export type AssessmentName = (typeof assessmentNames)[number];

export interface Assessment {
  name: AssessmentName;
  dueOn: Day;
}

export type QualityWeight = "must" | "counts for" | "noted";

/** The decision rule as set before the data; a later change is a new version with its reason, never an edit. */
export interface Rule {
  version: number;
  /** The share that must stand at the deciding assessment, 0 to 1; null when survival does not decide. */
  survivalFloor: number | null;
  /** Yield as a share of the check's, e.g. 0.9; null when yield does not decide. */
  yieldFloor: number | null;
  /** How sure to be before a floor counts as met, 0.5 to 0.99. */
  sureness: number;
  qualities: { trait: string; weight: QualityWeight }[];
  reason: string | null;
  setAt: Instant;
}

export type VerdictChoice = "grow again" | "try once more" | "drop";
