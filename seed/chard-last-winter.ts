import type { Day } from "@/lib/words/day";
import type { TrialPlan } from "@/lib/words/trial-plan";
import type { Season } from "./season";

const on = (day: string) => day as Day;

/** A bed that is shaded along one side and wet at one end: every sort stands once in each row and each column. */
export const chardLastWinterPlan: TrialPlan = {
  question: "Which chard comes again in March after standing out all winter?",
  purpose: "the hungry gap",
  crop: "chard",
  entries: [
    { variety: "Silver Wath", packetClaim: "White ribs; the hardiest.", role: "check" },
    { variety: "Copper Beck", packetClaim: "Colour all winter.", role: "entry" },
    { variety: "Amber Holm", packetClaim: "Colour until the frosts.", role: "entry" },
    { variety: "Ruddy Nab", packetClaim: "For summer pots.", role: "tender-check" },
  ],
  beds: [{ name: "Orchard bed", widthMm: 1_600, lengthMm: 5_000 }],
  covers: [],
  design: "latin",
  seed: 20250816,
  blocks: 4,
  plantsPerPlot: 4,
  betweenPlantsMm: 300,
  betweenRowsMm: 200,
  sownOn: "2025-07-05",
  plantedOn: "2025-08-16",
  assessments: [
    { name: "took", dueOn: "2025-09-06" },
    { name: "midwinter", dueOn: "2026-01-31" },
    { name: "regrowth", dueOn: "2026-04-04" },
  ],
  decidingAssessment: "regrowth",
  pickingRule: "Leaves as long as a hand; every plot on the same day.",
  clearBy: "2026-05-02",
  fallbackOn: null,
  rule: {
    survivalFloor: 0.6,
    yieldFloor: 0.7,
    sureness: 0.8,
    qualities: [{ trait: "colour", weight: "noted" }],
  },
};

export const chardLastWinterSeason: Season = {
  walks: [
    { day: on("2025-08-23"), by: "Ina" },
    { day: on("2025-09-06"), by: "Ina" },
    { day: on("2025-10-12"), by: "Ina" },
    { day: on("2025-11-23"), by: "Ina" },
    { day: on("2026-01-10"), by: "Joss" },
    { day: on("2026-01-31"), by: "Ina" },
    { day: on("2026-03-14"), by: "Ina" },
    { day: on("2026-04-04"), by: "Ina" },
    { day: on("2026-04-18"), by: "Ina" },
  ],
  picks: [
    { day: on("2025-10-18"), season: 1 },
    { day: on("2025-12-06"), season: 0.4 },
    { day: on("2026-04-11"), season: 1.2 },
  ],
  part: "leaf",
  weighedBy: "Morwen",
  fillings: [],
  notPicked: [],
  drowned: null,
  miscounted: null,
  unsettled: null,
  notTrue: null,
  doubtful: null,
  scores: [],
  stemsFrom: { "Amber Holm": on("2026-04-18") },
  endedOn: on("2026-04-18"),
  remarks: [],
};
