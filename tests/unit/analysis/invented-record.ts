import type { RecordPlot, TrialRecord } from "@/lib/analysis/trial-record";
import { type Day, isDay } from "@/lib/words/day";
import { instantOf } from "@/lib/words/instant";
import type { Observation } from "@/lib/words/observation";

/** A day that exists, for tests. */
export function day(text: string): Day {
  if (!isDay(text)) throw new RangeError(`${text} is no day`);
  return text;
}

export const plantedOn = day("2026-09-10");

/** Plots of varieties in blocks, named by block letter and place: A1, A2 …, B1 … */
export function blocksOf(varieties: string[], blocks: number, plants: number): RecordPlot[] {
  return Array.from({ length: blocks }, (_, block) =>
    varieties.map(
      (variety, place): RecordPlot => ({
        id: `${String.fromCharCode(65 + block)}${place + 1}`,
        code: `${String.fromCharCode(65 + block)}${place + 1}`,
        variety,
        replicate: null,
        block: String(block + 1),
        mainPlot: null,
        row: block + 1,
        column: place + 1,
        cover: null,
        sownOn: null,
        plants,
        plantedOn,
        areaM2: 0.5,
      }),
    ),
  ).flat();
}

let sequence = 0;

/** A fact with only what matters for the test said. */
export function fact(
  given: Partial<Observation> & Pick<Observation, "plotId" | "kind"> & { seenOn: Day },
): Observation {
  sequence += 1;
  return {
    id: `fact ${sequence}`,
    deviceId: "phone",
    deviceSequence: sequence,
    walkaboutId: null,
    cohortOn: null,
    cause: null,
    trait: null,
    part: null,
    amount: null,
    unit: "plants",
    recordedAt: instantOf(0),
    replaces: null,
    by: "",
    note: null,
    ...given,
  };
}

/** Stand counts of plots on a day, by plot. */
export function counted(seenOn: Day, standing: Record<string, number>): Observation[] {
  return Object.entries(standing).map(([plotId, amount]) => fact({ plotId, kind: "stand", amount, seenOn }));
}

/** Weights of plots on a day, by plot; null is *not picked*. */
export function picked(seenOn: Day, grams: Record<string, number | null>): Observation[] {
  return Object.entries(grams).map(([plotId, amount]) =>
    fact({ plotId, kind: "harvest", amount, unit: "g", seenOn }),
  );
}

/** A trial in blocks without rule, assessments or facts. */
export function inventedRecord(given: Partial<TrialRecord> & Pick<TrialRecord, "plots">): TrialRecord {
  return {
    design: "rcbd",
    seed: 7,
    varieties: [...new Set(given.plots.map((plot) => plot.variety))],
    check: null,
    tenderCheck: null,
    facts: [],
    amendments: [],
    assessments: [],
    decidingAssessment: "regrowth",
    rule: null,
    ruleChangedAfterData: false,
    clearBy: null,
    ...given,
  };
}
