import type { BedFact } from "@/lib/words/bed-fact";
import type { Day } from "@/lib/words/day";
import type { HarvestPart, Observation } from "@/lib/words/observation";
import type { PersonRole } from "@/lib/words/person";
import type { Assessment } from "@/lib/words/trial";

/** A trial plot as a phone draws it. Places are in the bed's own millimetres, as in `Plot`. */
export interface FieldPlot {
  id: string;
  trialId: string;
  code: string;
  variety: string;
  /** Plants set out at planting, in `plantRows` rows. */
  plants: number;
  plantRows: number;
  xMm: number;
  yMm: number;
  widthMm: number;
  lengthMm: number;
  plantedOn: Day;
}

export interface FieldBed {
  id: string;
  name: string;
  widthMm: number;
  lengthMm: number;
  /** Names of the covers that stand over any part of it today, outermost first; empty is open ground. */
  covers: string[];
  /** Plots of running trials only, in walking order; a bed without any is walked as a whole. */
  plots: FieldPlot[];
}

export interface FieldTrial {
  id: string;
  question: string;
  crop: string;
  plantedOn: Day;
  clearBy: Day | null;
  assessments: Assessment[];
  /** What is scored on assessment days: the qualities of the rule in force, in its order. */
  traits: string[];
  /** The parts that are picked, the usual one first; empty when nobody said. */
  parts: HarvestPart[];
}

/**
 * Everything a phone needs to walk and to weigh without a signal: `GET /api/field-pack`, kept on the device as it came.
 * `version` changes whenever anything in it but `today` does, and is also its ETag.
 */
export interface FieldPack {
  version: string;
  gardenName: string;
  timeZone: string;
  today: Day;
  /** Who fetched it: whoever is signed in, or at home the person named there; null for nobody. */
  person?: { name: string; role: PersonRole } | null;
  /** Every bed of the garden, in walking order. By the first contract only those that hold plots of running trials. */
  beds: FieldBed[];
  trials: FieldTrial[];
  /** Every fact of those plots, corrected and withdrawn ones included. */
  facts: Observation[];
  /** Facts of the beds from `bedFactsSince` on, corrected and withdrawn ones included. */
  bedFacts: BedFact[];
  bedFactsSince: Day;
  /** The causes on offer, in their one fixed order: the grower's own stand before *gone without a sign*. */
  causes: { code: string; words: string }[];
}
