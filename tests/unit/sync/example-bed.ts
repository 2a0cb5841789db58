import type { FieldBed, FieldPack, FieldPlot, FieldTrial } from "@/lib/sync/field-pack";
import { causes } from "@/lib/words/cause";
import type { Day } from "@/lib/words/day";
import type { Observation } from "@/lib/words/observation";
import { idOf, instantAt, walkDay } from "./facts";

export const plantedOn = "2026-10-01" as Day;

export function plot(number: number, changes: Partial<FieldPlot> = {}): FieldPlot {
  return {
    id: `plot-${number}`,
    trialId: "trial",
    code: `A${number}`,
    variety: "Pennick",
    plants: 3,
    plantRows: 3,
    xMm: 150,
    yMm: (number - 1) * 300,
    widthMm: 900,
    lengthMm: 300,
    plantedOn,
    ...changes,
  };
}

export const trial: FieldTrial = {
  id: "trial",
  question: "Which mustard greens stand the winter?",
  crop: "mustard greens",
  plantedOn,
  clearBy: null,
  assessments: [
    { name: "took", dueOn: "2026-10-20" as Day },
    { name: "midwinter", dueOn: "2027-01-10" as Day },
  ],
  traits: ["cold damage", "colour"],
  parts: ["leaf"],
};

export function bed(name: string, plots: FieldPlot[], changes: Partial<FieldBed> = {}): FieldBed {
  return { id: name, name, widthMm: 1200, lengthMm: 4800, covers: [], plots, ...changes };
}

export function pack(beds: FieldBed[], facts: Observation[] = []): FieldPack {
  return {
    version: "1",
    gardenName: "Hazel Clough",
    timeZone: "Europe/London",
    today: walkDay,
    beds,
    trials: [trial],
    facts,
    bedFacts: [],
    bedFactsSince: plantedOn,
    causes: [...causes],
  };
}

/** A fact that home has, from another device. */
export function homeFact(number: number, changes: Partial<Observation>): Observation {
  return {
    id: idOf(10_000 + number),
    deviceId: idOf(888_888),
    deviceSequence: number,
    walkaboutId: null,
    plotId: "plot-1",
    cohortOn: null,
    kind: "loss",
    cause: "cold",
    trait: null,
    part: null,
    amount: 1,
    unit: "plants",
    seenOn: "2026-12-01" as Day,
    recordedAt: instantAt(0),
    replaces: null,
    by: "Rowan",
    note: null,
    ...changes,
  };
}
